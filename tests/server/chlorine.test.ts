import { describe, expect, test } from '@jest/globals';
import { engines } from '../support/engines.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';
import { readPdf } from '../support/read-pdf.js';

describe.each(engines())('on $name', (engine) => {
  const here = recallSuite(engine);
  const cleaned = async (fields: Record<string, string>) => {
    const url = '/supporting-records/cleanings/new';
    const answer = await here.send(url, { ...hiddenFieldsIn((await here.open(url)).body), ...fields });
    expect(answer.statusCode).toBe(303);
  };

  test('vinegar with bleach, and bleach with ammonia, stay in the season’s list with the gas they give off', async () => {
    await cleaned({ what: 'finish pan', with: 'vinegar, then bleach', at: '2026-03-18T20:00' });
    await cleaned({ what: 'tank', with: 'bleach and ammonia', wasRinsed: 'yes', at: '2026-03-18T20:30' });
    await cleaned({ what: 'pails', with: 'unscented bleach', rinsed: 'clean water', at: '2026-03-18T20:40' });
    const { risks } = (await here.open('/api/seasons/2026/summary.json')).json<{
      risks: { matter: string; of: string; recorded: string; asks: string }[];
    }>();
    const cleanings = risks.filter(({ matter }) => matter === 'cleaning');
    expect(cleanings.map(({ of, asks }) => [of, /chlorine|chloramine/.exec(asks)?.[0]])).toEqual([
      ['cleaning of finish pan', 'chlorine'],
      ['cleaning of tank', 'chloramine'],
    ]);
    expect(cleanings[0]?.recorded).toContain('vinegar, then bleach');
    const pdf = await readPdf((await here.open('/api/seasons/2026/summary.pdf')).rawPayload);
    expect(pdf.text.replace(/\s+/g, ' ')).toContain('bleach and acid together give off chlorine gas');
  });
});
