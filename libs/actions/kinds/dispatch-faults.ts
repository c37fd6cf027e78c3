import type { DispatchBody } from '#libs/records/kinds/dispatch.js';
import type { JarSelection } from '../jars/jar-selection.js';
import type { Fault } from '../record/problem.js';

/** The fields of a dispatch that may contradict each other, as typed. */
type DispatchTyped = Pick<DispatchBody, 'sentAt' | 'kind' | 'sealed' | 'keptHow' | 'lookedAt' | 'fromReturned'> & {
  readonly jars: JarSelection;
  readonly alreadyLeft?: 'yes' | 'no' | undefined;
  readonly laboratory?: 'yes' | 'no' | undefined;
};

/** Contradictions: a plan cannot have left already, and only returned jars are inspected. */
export function dispatchFaults(body: DispatchTyped, plan: boolean): Fault[] {
  const faults: Fault[] = [];
  const addFault = (field: string, expected: string, got: string) => faults.push({ field, expected, got });
  if (body.alreadyLeft === 'yes' && plan)
    addFault('sentAt', 'a time in the past, for jars that have already left', body.sentAt);
  if (body.alreadyLeft === 'yes' && body.kind === 'returned')
    addFault('alreadyLeft', 'blank for returned jars', '"yes"');
  if (body.laboratory === 'yes' && body.kind !== 'sample')
    addFault('kind', 'sample, for a laboratory', `"${body.kind}"`);
  const isReturn = body.kind === 'returned';
  if (!isReturn && body.sealed !== undefined) addFault('sealed', 'blank, except for returned jars', `"${body.sealed}"`);
  if (!isReturn && body.keptHow !== undefined)
    addFault('keptHow', 'blank, except for returned jars', `"${body.keptHow}"`);
  if (body.sealed === undefined && body.lookedAt !== undefined)
    addFault('sealed', 'how many are still sealed, 0 where none is', 'nothing');
  if (isReturn && (body.sealed ?? 0) > body.jars.jars)
    addFault('sealed', `at most the ${body.jars.jars} that were returned`, `"${body.sealed}"`);
  if (isReturn && body.jars.codes.length > 0 && ![undefined, 0, body.jars.jars].includes(body.sealed))
    addFault(
      'sealed',
      `0 or ${body.jars.jars}: with jar codes, record the sealed ones and the others separately`,
      `"${body.sealed}"`,
    );
  if (isReturn && body.sealed !== undefined && body.keptHow === undefined)
    addFault('keptHow', 'how they were kept: cold, warm or not-known', 'nothing');
  if ((body.fromReturned ?? 0) > body.jars.jars)
    addFault('fromReturned', `at most the ${body.jars.jars} that leave`, `"${body.fromReturned}"`);
  return faults;
}
