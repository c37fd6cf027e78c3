import { findFailedInstruments } from '#libs/actions/facts/failed-instruments.js';
import { formatCheckError } from '#libs/syrup/instruments/suspect-reading.js';
import { type Principal, readerOf } from '../../http/principal.js';
import { dayText } from '../../text/times.js';

/** A line on Today about an instrument whose last check failed, with the form of its next check. */
export interface FailedInstrumentLine {
  readonly sentence: string;
  /** The failed check, with the lots that the instrument read since the last good one. */
  readonly href: string;
  readonly checkAgain: string;
}

/** Instruments in use that a check found wrong, until a good check follows or they are recorded as out of use. */
export async function failedInstruments(principal: Principal, now: string): Promise<FailedInstrumentLine[]> {
  return (await findFailedInstruments(readerOf(principal))).map(({ instrument, check, isAdjusted }) => {
    const found = `${instrument} ${formatCheckError(check) === 'wrong' ? 'was found wrong' : formatCheckError(check)}${where[check.how ?? ''] ?? ''}, ${dayText(check.day ?? '', now)}`;
    return {
      sentence: isAdjusted
        ? `${found}, and was adjusted. Check it again before you use it.`
        : `${found}: don’t use it. Adjust it and check it again. If it is thrown away, add “out of use” to that check.`,
      href: `/records/check/${encodeURIComponent(check.id)}`,
      checkAgain: `/supporting-records/checks/new?how=${check.how}&instrument=${encodeURIComponent(instrument)}`,
    };
  });
}

const where: Readonly<Record<string, string>> = {
  ice: ' in ice',
  'boiling-water': ' in boiling water',
};
