import { join } from 'node:path';
import { afterAll, describe, expect, test } from '@jest/globals';
import { backUpBook } from '#libs/store/backup/backup.js';
import { openBook } from '#libs/store/book.js';
import { reportsWaitingOf } from '#libs/store/household/jar-reports.js';
import { endAll, temporaryFolder } from '../support/server-process.js';
import { findLot } from '#libs/store/queries/lots.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import { jarPage } from '#libs/labels/content/static-jar-page.js';
import { loadLabelContent } from '#libs/actions/labels/label-content.js';
import { placeRules } from '#libs/actions/places/places.js';
import type { PlaceRules } from '#libs/syrup/labelling/places.js';
import { plain } from '../support/documented-season.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';
import { writeDay } from '../support/season-server.js';
import { startServer, posted } from '../support/server.js';
import { sugarhouseReader } from '#libs/store/connection/sugarhouse-reader.js';

const here = recallSuite();
const { open, send, entries, records: saved, state } = here;

/** The reports that Today lists, each once. */
const reportsOn = (page: string): string[] => [
  ...new Set([...page.matchAll(/href="(\/returns\/reports\/[\w-]+)"/g)].map(([, href = '']) => href)),
];

afterAll(endAll);

describe('a customer’s report from the jar’s page', () => {
  const anybody = (url: string) => here.at.web.inject(url);
  const formatted = { said: 'The label came off in the wash', reach: '802 555 0123, evenings' };

  test('the served page links to the form; a page published elsewhere has only the phone number', async () => {
    const code = here.day.jars[1] ?? '';
    expect((await anybody(`/J/${code}`)).body).toContain(`href="/j/${code}/report"`);
    const lot = await findLot(sugarhouseReader(here.at.book.read, 'home'), here.day.pack);
    const content =
      lot &&
      (await loadLabelContent(sugarhouseReader(here.at.book.read, 'home'), lot, placeRules('Vermont') as PlaceRules));
    const published = content ? jarPage(content, { code }) : '';
    expect(published).toContain('Something wrong with this jar? Call');
    expect(published).not.toContain('/report');
  });

  test('it is saved once though sent twice, reveals nothing, holds nothing, and appears on Today', async () => {
    const code = here.day.jars[1] ?? '';
    const form = await anybody(`/J/${code}/report`);
    expect(form.statusCode).toBe(200);
    const before = await entries();
    for (const _ of [1, 2]) {
      const sent = await posted(here.at, `/j/${code}/report`, { ...hiddenFieldsIn(form.body), ...formatted });
      expect([sent.statusCode, sent.headers.location]).toEqual([303, `/j/${code}/reported`]);
    }
    // It waits outside the record until a maker accepts it.
    expect(await entries()).toBe(before);
    const [report = '', ...more] = reportsOn((await open('/')).body);
    expect([report, more]).toEqual([expect.stringContaining('/returns/reports/'), []]);
    expect((await open(report)).body).toContain(formatted.reach);
    const taken = async () => (await send(`${report}/take`, hiddenFieldsIn((await open(report)).body))).statusCode;
    expect([await taken(), await taken()]).toEqual([303, 409]);
    expect(await entries()).toBe(before + 1);
    const complaint = (await saved('complaint')).find(({ body }) => body['said'] === formatted.said);
    expect(complaint?.body).toMatchObject({
      lot: here.day.pack,
      jar: printedJarCode(code),
      said: formatted.said,
      from: 'jar page',
      by: 'customer',
    });
    expect(complaint?.body['note']).toContain(formatted.reach);
    expect(await state(here.day.pack)).toBe('open');
    const thanks = (await anybody(`/j/${code}/reported`)).body;
    for (const inside of [complaint?.id ?? '', here.day.pack, formatted.said, here.boil])
      expect(thanks).not.toContain(inside);

    expect((await open('/')).body).toContain(formatted.said);
    expect((await open('/', 'JP')).body).not.toContain(formatted.said);
    const correct = `/records/complaint/${complaint?.id}/correct`;
    const hidden = hiddenFieldsIn((await open(correct)).body);
    expect((await send(correct, { ...hidden, why: 'looked at it', done: 'took it back' })).statusCode).toBe(303);
    expect((await open('/')).body).not.toContain(formatted.said);
  });

  test('it can be set aside by a maker without a record, and a backup contains waiting ones', async () => {
    const url = `/j/${here.day.jars[1]}/report`;
    const before = await entries();
    for (const said of ['you are the best', 'it is too sweet'])
      await posted(here.at, url, { ...hiddenFieldsIn((await anybody(url)).body), said });
    const [first = '', second = ''] = reportsOn((await open('/')).body);
    expect((await send(`${first}/set-aside`, {}, 'JP')).statusCode).toBe(403);
    expect((await send(`${first}/set-aside`, hiddenFieldsIn((await open(first)).body))).statusCode).toBe(303);
    expect(reportsOn((await open('/')).body)).toEqual([second]);
    expect(await entries()).toBe(before);
    const file = join(temporaryFolder(), 'backup.sqlite');
    await backUpBook(here.at.book, file);
    const copy = await openBook({ file });
    expect(await reportsWaitingOf(sugarhouseReader(copy.read, 'home'))).toHaveLength(1);
    await copy.close();
    await send(`${second}/set-aside`, hiddenFieldsIn((await open(second)).body));
  });

  test('until it is read, Today does not call the jars of its pack ready to send', async () => {
    const pack = await here.aPack(here.boil, { container: 'glass jar 10 fl oz', fromLots: [`${here.boil}:0.5 gal`] });
    const today = async () => plain((await here.open('/')).body.replace(/<[^>]+>/g, ' '));
    here.at.clock.now = new Date(here.at.clock.now.getTime() + 13 * 3_600_000);
    expect(await today()).toMatch(/glass jar 10 fl oz 6 jars ready to send, of 1 lot/);
    const url = `/j/${await here.firstJar(pack)}/report`;
    await posted(here.at, url, { ...hiddenFieldsIn((await anybody(url)).body), said: 'a white fuzzy patch' });
    expect(await today()).toMatch(
      /glass jar 10 fl oz 6 jars of packs with a customer’s report that nobody has read, of 1 lot/,
    );
  });

  test('one that holds its lot when it is recorded leads to the question on the lot’s page', async () => {
    const pack = await here.aPack(here.boil, { packedAt: '2026-03-19T16:35' });
    const url = `/j/${await here.firstJar(pack)}/report`;
    const waiting = reportsOn((await open('/')).body);
    await posted(here.at, url, { ...hiddenFieldsIn((await anybody(url)).body), said: 'it smells of yeast' });
    // Two reports of one moment are listed in the order of their random ids.
    const report = reportsOn((await open('/')).body).find((each) => !waiting.includes(each)) ?? '';
    const taken = await send(`${report}/take`, hiddenFieldsIn((await open(report)).body));
    expect(taken.headers.location).toBe(`/lots/${pack}#findings`);
    expect(await state(pack)).toBe('held');
  });

  test('the same token with another text reveals no entry', async () => {
    const code = here.day.jars[1] ?? '';
    const hidden = hiddenFieldsIn((await anybody(`/j/${code}/report`)).body);
    await posted(here.at, `/j/${code}/report`, { ...hidden, said: 'first' });
    const other = await posted(here.at, `/j/${code}/report`, { ...hidden, said: 'second' });
    expect([other.statusCode, other.body.includes('customer'), other.body.includes('entry')]).toEqual([
      422,
      false,
      false,
    ]);
  });

  test('one that is blank, too long, without its token or for an unknown jar writes nothing', async () => {
    const url = `/j/${here.day.jars[2]}/report`;
    const hidden = () => anybody(url).then((form) => hiddenFieldsIn(form.body));
    const before = await entries();
    const sent = async (fields: Record<string, string>, to = url) => (await posted(here.at, to, fields)).statusCode;
    expect(await sent({ ...(await hidden()), said: ' ' })).toBe(422);
    expect(await sent({ ...(await hidden()), said: 'x'.repeat(1001) })).toBe(422);
    expect(await sent({ ...(await hidden()), said: 'x', reach: 'y'.repeat(201) })).toBe(422);
    expect(await sent({ said: 'x' })).toBe(422);
    expect(await sent({ ...(await hidden()), said: 'x' }, '/j/22222222/report')).toBe(404);
    expect(await entries()).toBe(before);
  });

  test('it is accepted only from our own page', async () => {
    const url = `/j/${here.day.jars[2]}/report`;
    const hidden = hiddenFieldsIn((await anybody(url)).body);
    const before = await entries();
    const sent = await posted(here.at, url, { ...hidden, ...formatted }, { origin: 'https://elsewhere.example' });
    expect([sent.statusCode, await entries()]).toEqual([403, before]);
  });

  test('at most five a day are accepted for one jar, and a fast sender has to wait', async () => {
    const url = `/j/${here.day.jars[3]}/report`;
    const statuses: number[] = [];
    for (let n = 0; n < 6; n++)
      statuses.push((await posted(here.at, url, { _once: `in-a-hurry-${n}`, said: `again ${n}` })).statusCode);
    expect(statuses).toEqual([303, 303, 303, 303, 303, 429]);
    // The last one accepted is still recognised when it is sent again.
    expect((await posted(here.at, url, { _once: 'in-a-hurry-4', said: 'again 4' })).statusCode).toBe(303);

    const atOnce = await Promise.all(
      Array.from({ length: 100 }, (_, n) =>
        posted(here.at, `/j/${here.day.jars[4]}/report`, { _once: `at-once-${n}`, said: `together ${n}` }),
      ),
    );
    expect(atOnce.filter((answer) => answer.statusCode === 303)).toHaveLength(5);
    expect(atOnce.filter((answer) => answer.statusCode === 429)).toHaveLength(95);

    const limited = await startServer({}, { requestsPerMinute: 40 });
    try {
      const other = await writeDay(limited);
      const to = (n: number) => posted(limited, `/j/${other.jars[n]}/report`, { _once: `visit-${n}`, said: 'x' });
      expect([(await to(0)).statusCode, (await to(1)).statusCode, (await to(2)).statusCode]).toEqual([303, 303, 429]);
    } finally {
      await limited.close();
    }
  });
});
