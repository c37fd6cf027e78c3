import type { Lot } from '#libs/store/queries/lots.js';
import { lotOfComplaint } from '../../lots/complaint-lot.js';
import { complaintFields, judgeComplaint } from '../complaint.js';
import { supportingRecord } from './declare.js';

export const complaints = supportingRecord({
  kind: 'complaint',
  plural: 'complaints',
  noun: 'complaint',
  writer: 'maker',
  fields: complaintFields,
  judgesLot: true,
  findLot: async ({ jar }, named, at, before) => {
    const found = await lotOfComplaint(at, { lot: named, jar, jarBefore: before?.typed['jar'] });
    if ('problem' in found) return found;
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
