import { act, another, complaint, pack, release } from './verdict-case.js';
import { answered, consultation, type WayOut } from './ways-out-steps.js';

export const thrownOut = [
  act({ way: 'destroyed', jars: 'all', found: 'see above', done: 'thrown out' }),
  release('all of it is gone'),
];
const sealed = complaint('mould on top', { mould: 'yes', came: 'sealed' });
const looked = act({
  at: '2026-04-21T15:00',
  way: 'inspected',
  found: 'one complaint',
  done: 'looked at twelve',
  jarsMouldy: '0',
  jarsSound: '12',
});
const glass = complaint('a shard of glass in the syrup');
const otherPack = another('pack', {
  fromLots: '26077A:0.5 gal',
  packedAt: '2026-03-19T14:00',
  jars: '8',
  fillTemps: '186 F#T1 jar 8',
});

/** The ways out of holds for mould, gas or fermentation, and for harm. */
export const spoilageRemedies = {
  mould: [
    { held: { after: [sealed] }, out: [looked, release('one bad lid')], ends: 'released' },
    { held: { after: [sealed] }, out: thrownOut, ends: 'released' },
  ],
  'mould-looked-at': [{ held: { after: [sealed, looked] }, out: [release('one bad lid')], ends: 'released' }],
  'spoilage-question': [
    { held: { after: [complaint('green mould under the lid')] }, out: [answered('no')], ends: 'open' },
    {
      held: { after: [complaint('green mould under the lid')] },
      out: [answered('yes'), looked, release('one bad lid')],
      ends: 'released',
    },
  ],
  'harm-question': [
    { held: { after: [glass] }, out: [answered('no')], ends: 'open' },
    {
      held: { after: [glass] },
      out: [answered('yes'), release('asked first', pack, consultation)],
      ends: 'released',
    },
  ],
  'harm-reported': [
    { held: { after: [glass, answered('yes')] }, out: [release('asked first', pack, consultation)], ends: 'released' },
    { held: { after: [glass, answered('yes')] }, out: thrownOut, ends: 'released' },
  ],
  'harm-in-same-syrup': [
    {
      held: { after: [otherPack, glass, answered('yes')], lot: '26077A-2' },
      out: [release('asked about both', '26077A-2', consultation)],
      ends: 'released',
    },
  ],
} satisfies Readonly<Record<string, readonly WayOut[]>>;
