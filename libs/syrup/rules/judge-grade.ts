import { colourClassOf, parseColourClass } from '../science/colour.js';
import { type Container, isBulk } from '../quantities/container.js';
import { isBlank, isClear, isNoOffFlavour, isNotChecked } from '../free-text/short-answers.js';
import type { Percent } from '../quantities/quantities.js';
import { findingOf, type RuleName } from './rules.js';
import { formatRounded } from '../quantities/format-quantities.js';
import type { Finding } from './verdict.js';

/** What grade, clarity and flavour of a pack are judged by. */
export interface GradeFacts {
  readonly container: Container;
  readonly transmittance?: Percent | undefined;
  readonly colourClass: string;
  readonly clarity: string;
  readonly offFlavour: string;
  /** Where the place's rule for small containers was not read in a source, it is only an advisory. */
  readonly place?: { readonly canada: boolean } | undefined;
}

/**
 * Findings on flavour, clarity and colour. Bulk syrup of processing grade is for other makers: neither flavour nor haze
 * holds it.
 */
export function judgeGrade(facts: GradeFacts): Finding[] {
  const processing = parseColourClass(facts.colourClass) === 'processing';
  if (processing && isBulk(facts.container)) return [];
  return [...(processing ? [processingInSmall(facts)] : []), ...flavourAndClarity(facts), ...colourFindings(facts)];
}

function flavourAndClarity({ offFlavour, clarity }: GradeFacts): Finding[] {
  const stop = (name: RuleName, limit: string, found: string): Finding => findingOf(name, { limit, found });
  return [
    ...(isNoOffFlavour(offFlavour)
      ? []
      : [stop('off-flavour', 'no off flavour in a retail grade', `“${offFlavour.trim()}”`)]),
    ...(isNotChecked(clarity) || isClear(clarity)
      ? []
      : [stop('cloudy', 'clear and without sediment in a retail grade', `“${clarity.trim()}”`)]),
  ];
}

function processingInSmall({ container, place }: GradeFacts): Finding {
  if (place?.canada)
    return findingOf('processing-rule-not-read', {
      limit: 'the local rule for processing grade, which is not known here: ask its authority',
      found: `processing grade in a container of ${container.volume.typed}`,
    });
  return findingOf('processing-below-5-gal', {
    limit: 'processing grade in containers of 5 gal (18.9 L) or more',
    found: `processing grade in a container of ${container.volume.typed}`,
  });
}

function colourFindings({ colourClass, transmittance }: GradeFacts): Finding[] {
  const typed = parseColourClass(colourClass);
  if (typed === 'processing' || isBlank(colourClass)) return [];
  if (typed === undefined)
    return [
      findingOf('colour-not-known', {
        limit: 'Golden, Amber, Dark or Very Dark, or processing',
        found: `“${colourClass.trim()}” is not a colour class`,
      }),
    ];
  if (!transmittance || colourClassOf(transmittance.percent) === typed) return [];
  const measured = colourClassOf(transmittance.percent);
  return [
    findingOf('colour-conflict', {
      limit: `${measured} at ${formatRounded(transmittance.percent, 2)} % transmittance`,
      found: `“${colourClass.trim()}” entered; ${transmittance.typed} is ${measured}, and the transmittance decides`,
    }),
  ];
}
