import { checks } from './supporting/check.js';
import { cleanings } from './supporting/cleaning.js';
import { complaints } from './supporting/complaint.js';
import type { SupportingKind } from './supporting/declare.js';
import { equipment } from './supporting/equipment.js';
import { filters } from './supporting/filter.js';
import { instruments } from './supporting/instrument.js';
import { labelRuns } from './supporting/label-run.js';
import { leadTests } from './supporting/lead-test.js';
import { licences } from './supporting/licence.js';
import { practiceRecalls } from './supporting/practice-recall.js';
import { seasons } from './supporting/season-close.js';
import { supplies } from './supporting/supply.js';
import { trainings } from './supporting/training.js';
import { waterTests } from './supporting/water-test.js';

/** The records an inspector reads beside the lots, in the order of the page that lists them. */
export const supportingRecordKinds: readonly SupportingKind[] = [
  instruments,
  checks,
  equipment,
  cleanings,
  filters,
  supplies,
  waterTests,
  leadTests,
  complaints,
  trainings,
  licences,
  practiceRecalls,
  seasons,
  labelRuns,
];
