import type { Type } from '@nestjs/common';
import { acknowledgements } from '#libs/actions/already-left.js';
import { actions } from '#libs/actions/act-on-lot.js';
import { answers } from '#libs/actions/answer-question.js';
import { counts } from '#libs/actions/count-shelf.js';
import { draws } from '#libs/actions/draw-off.js';
import { gatherings } from '#libs/actions/gather-sap.js';
import { labelStocks } from '#libs/actions/label-stock.js';
import { lines } from '#libs/actions/log-boil.js';
import { packs, packsUnderway } from '#libs/actions/pack-syrup.js';
import { recallCalls } from '#libs/actions/recall-call.js';
import { boils, boilsUnderway } from '#libs/actions/record-boil.js';
import { dispatches } from '#libs/actions/send-out.js';
import { houses } from '#libs/actions/set-up.js';
import { sideKinds } from '#libs/actions/side-records.js';
import { receipts } from '#libs/actions/take-receipt.js';
import { spent } from '#libs/actions/use-up.js';
import { verifications } from '#libs/actions/verify-lot.js';
import { type Noun, nounController } from './noun-controller.js';

/** Every noun of /api. */
const nouns: readonly Noun[] = [
  { kind: gatherings },
  { kind: receipts },
  { kind: boils, underway: boilsUnderway },
  { kind: lines },
  { kind: draws },
  { kind: packs, underway: packsUnderway },
  { kind: dispatches },
  { kind: counts },
  { kind: spent },
  { kind: actions },
  { kind: answers },
  { kind: acknowledgements },
  { kind: recallCalls },
  { kind: verifications },
  { kind: houses },
  { kind: labelStocks },
  ...sideKinds.filter((kind) => kind.kind !== 'season').map((kind): Noun => ({ kind })),
];

export const nounControllers: readonly Type<unknown>[] = nouns.map(nounController);
