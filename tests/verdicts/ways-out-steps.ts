import { act, density, pack, record, release } from './verdict-case.js';
import type { Step, Texts, VerdictCase } from './verdict-case.js';

/** A lot held by a rule, and the steps that its sentence names. */
export interface WayOut {
  readonly held: Omit<VerdictCase, 'is' | 'state'>;
  readonly out: readonly Step[];
  /** The lot that is held, where it isn’t the pack. */
  readonly ends: 'open' | 'released';
}

const again = { jars: 'all', fillTemps: '188 F@15:20#T1 jar 12;187 F@15:40#T1 jar 24' };
export const packedAgain = (more: Texts = {}): Step[] => [
  act({ ...again, ...more }),
  release('packed again, read again'),
];
export const measured = act({
  jars: 'all',
  cause: 'measured again',
  found: 'near the limit',
  done: 'measured again',
  ...density('67.4 Bx', '60 F'),
});
export const consultation = {
  authority: 'Vermont Agency of Agriculture',
  askedAt: '2026-04-22',
  answer: 'sell it under their product rule',
};
export const answered = (answer: 'yes' | 'no'): Step => record('answers', { lot: pack, answer });
