import type { Type } from '@nestjs/common';
import { acknowledgements } from '#libs/actions/kinds/acknowledgement.js';
import { actions } from '#libs/actions/kinds/corrective-action.js';
import { answers } from '#libs/actions/kinds/answer.js';
import { counts } from '#libs/actions/kinds/count.js';
import { draws } from '#libs/actions/kinds/draw.js';
import { gatherings } from '#libs/actions/kinds/gathering.js';
import { labelStocks } from '#libs/actions/kinds/label-stock.js';
import { lines } from '#libs/actions/kinds/boil-line.js';
import { packs, packsUnderway } from '#libs/actions/kinds/pack.js';
import { recallCalls } from '#libs/actions/recall/recall-call.js';
import { boils, boilsUnderway } from '#libs/actions/kinds/boil.js';
import { dispatches } from '#libs/actions/kinds/dispatch.js';
import { houses } from '#libs/actions/kinds/house.js';
import { supportingRecordKinds } from '#libs/actions/kinds/supporting-records.js';
import { receipts } from '#libs/actions/kinds/receipt.js';
import { disposals } from '#libs/actions/kinds/disposal.js';
import { verifications } from '#libs/actions/kinds/verification.js';
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
  { kind: disposals },
  { kind: actions },
  { kind: answers },
  { kind: acknowledgements },
  { kind: recallCalls },
  { kind: verifications },
  { kind: houses },
  { kind: labelStocks },
  ...supportingRecordKinds.filter((kind) => kind.kind !== 'season').map((kind): Noun => ({ kind })),
];

export const nounControllers: readonly Type<unknown>[] = nouns.map(nounController);
