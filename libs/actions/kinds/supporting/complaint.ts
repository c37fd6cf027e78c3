import { complaintFields, judgeComplaint } from '../complaint.js';
import { supportingRecord } from './declare.js';

export const complaints = supportingRecord({
  kind: 'complaint',
  plural: 'complaints',
  noun: 'complaint',
  writer: 'maker',
  fields: complaintFields,
  judgesLot: true,
  complete: (input, _when, { houseContext }) => ({ body: { judged: judgeComplaint(input, houseContext.place) } }),
});
