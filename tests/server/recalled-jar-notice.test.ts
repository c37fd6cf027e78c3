import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from '@jest/globals';
import { publish } from '../../apps/cli/commands/publish.js';
import { readPdf } from '../support/read-pdf.js';
import { plain } from '../support/documented-season.js';
import { recallSuite, hiddenFieldsIn } from '../support/recall-suite.js';

const here = recallSuite();
const { open, send } = here;
const recallOf = async (pack: string, notes: Record<string, string>) => {
  const form = await open(`/lots/${pack}/recall`);
  const done = await send('/recall', { ...hiddenFieldsIn(form.body), lot: pack, why: 'a buyer called', ...notes });
  expect(done.statusCode).toBe(303);
};
const noticeOf = (html: string): string =>
  plain(/<section class="notice"[^]*?<\/section>/.exec(html)?.[0] ?? '').replace(/<[^>]+>/g, ' ');
const postedNotice = async (pack: string): Promise<string> => {
  const pdf = await readPdf((await open(`/recall/list.pdf?lot=${pack}`)).rawPayload);
  return plain(pdf.pages.at(-1)?.text ?? '');
};

describe('what the holder of a recalled jar reads', () => {
  test('begins with the recorded hazard and instruction, and no other instruction contradicts them', async () => {
    const pack = await here.aPack(here.boil);
    const jar = await here.firstJar(pack);
    await recallOf(pack, { hazard: 'mould', whatToDo: 'do not eat it; bring it back' });
    const folder = await mkdtemp(join(tmpdir(), 'boilbook-recalled-'));
    try {
      const context = { sugarhouse: 'home', by: 'WE', author: 'WE', now: here.clock.now, zone: 'America/New_York' };
      const command = { argv: [folder], options: {}, writeContext: context, book: () => Promise.resolve(here.at.book) };
      await publish.run(command as never);
      const published = await readFile(join(folder, 'J', jar, 'index.html'), 'utf8');
      for (const html of [(await open(`/J/${jar}`)).body, published]) {
        const notice = noticeOf(html);
        expect(notice).toMatch(
          /RECALLED\s+Hazard: mould\.\s+What to do: do not eat it; bring it back\.\s+Lot \S+ has been/,
        );
        expect(notice).not.toContain('pour the syrup away');
      }
    } finally {
      await rm(folder, { recursive: true });
    }
    const posted = await postedNotice(pack);
    expect(posted).toMatch(
      /Recalled: do not eat this syrup.* Hazard: mould\. What to do: do not eat it; bring it back\./,
    );
    expect(posted).not.toMatch(/throw it away|Please bring/);
  });

  test('has the usual instruction where none was recorded', async () => {
    const pack = await here.aPack(here.boil);
    await recallOf(pack, { hazard: '', whatToDo: '' });
    const notice = noticeOf((await open(`/J/${await here.firstJar(pack)}`)).body);
    expect(notice).toContain('bring it back, or pour the syrup away');
    expect(notice).not.toMatch(/Hazard|What to do/);
    expect(await postedNotice(pack)).toMatch(/Please bring this syrup back.*or throw it away/);
  });
});
