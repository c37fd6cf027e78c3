import type { Lot } from '#libs/store/queries/lots.js';
import { lotOfComplaint } from '../../lots/complaint-lot.js';
import { invalid } from '../../record/problem.js';
import { complaintFields, judgeComplaint } from '../complaint.js';
import { supportingRecord } from './declare.js';

export const complaints = supportingRecord({
  kind: 'complaint',
  plural: 'complaints',
  noun: 'complaint',
  writer: 'maker',
  fields: complaintFields,
  judgesLot: true,
  findLot: async ({ jar, at: when }, named, at, before) => {
    const found = await lotOfComplaint(at, { lot: named, jar, jarBefore: before?.typed['jar'] });
    if ('problem' in found) return found;
    const packedOn = found.lot?.kind === 'pack' ? found.lot.at.slice(0, 10) : '';
    if (!before && when !== undefined && when.slice(0, 10) < packedOn)
      return invalid('at', `a day on or after ${packedOn}, when ${found.lot?.code} was packed`, `"${when}"`);
    return { lot: found.lot, body: { jar: found.jar }, notes: notesOn(named, found.lot) };
  },
  complete: (input, _when, { houseContext }) => ({ body: { judged: judgeComplaint(input, houseContext) } }),
});

function notesOn(named: Lot | undefined, found: Lot | undefined): string[] {
  if (!found)
    return [
      'It names no lot and no jar, so it holds nothing. Today lists it until somebody corrects it and names the lot.',
    ];
  return named ? [] : [`It is about ${found.code}, the lot of the jar.`];
}
