import {
  density,
  signature,
  optional,
  pastMoment,
  required,
  withDefault,
  ownId,
  temperature,
  text,
  volume,
  freeText,
} from '../record/fields.js';
import { sapHandling } from './manual-steps.js';
import { kind } from '../record/kind.js';
import { sapTemperatureSentences } from '#libs/syrup/rules/judge-boil-record.js';
import { asNote } from '../facts/boil-times.js';

/** Gathered sap: the first lot of every chain. */
export const gatheringFields = {
  id: required(ownId, { label: 'Id', example: 'G041', hint: 'Your own number for this gathering' }),
  gatheredAt: required(pastMoment, { label: 'Gathered at', example: '2026-03-17T16:30' }),
  source: required(text, { label: 'Where from', example: 'North slope, buckets' }),
  volume: required(volume, { label: 'How much sap', example: '120 gal' }),
  sugar: optional(density, { label: 'Sugar of the sap', example: '2.1 Bx' }),
  temperature: optional(temperature, {
    label: 'Temperature of the sap',
    example: '38 F',
    hint: 'Cold and soon: at or below 38 °F',
  }),
  condition: freeText({
    label: 'Looks and smells',
    example: 'clear, cold',
    suggestions: ['clear, cold', 'clear', 'yellow', 'cloudy', 'smells off'],
    hint: 'Throw out sap that is cloudy, slimy or tainted',
  }),
  handling: sapHandling,
  thrownOut: optional(volume, {
    label: 'Yellow or cloudy sap thrown out',
    example: '3 gal',
    hint: 'Not counted in the amount above',
  }),
  by: withDefault(signature, '', { label: 'By', example: 'WE' }),
};

export const gatherings = kind({
  kind: 'gathering',
  plural: 'gatherings',
  noun: 'gathering',
  fields: gatheringFields,
  idFields: ['id'],
  prepare: async ({ first }, { body }) => ({
    id: body.id,
    happenedAt: body.gatheredAt,
    body: { ...body, by: body.by || first.by },
    about: [body.id],
    judge: [],
    notes: sapTemperatureSentences(body.temperature).map(asNote),
  }),
});
