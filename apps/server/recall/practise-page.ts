import { count, maybe, type Fields } from '#libs/actions/fields.js';
import { unknown } from '#libs/actions/problem.js';
import { momentIn } from '#libs/actions/times.js';
import type { SideBody } from '#libs/records/bodies.js';
import { recordsOf } from '#libs/records/lots.js';
import { formGround, formGroups, problemView, type Sent } from '../forms/form-view.js';
import { jarPage } from '../trace/trace-pages.js';
import type { Visitor } from '../web/visitor.js';
import { elapsed, momentWords } from '../words/times.js';
import { lotTracePage } from '../trace/trace-pages.js';

const shelfField: Fields = {
  onShelf: maybe(count, {
    label: 'Jars of this lot on the shelf, counted now',
    hint: 'Left blank, the book’s own balance closes it. This count is only of the practice; one that counts is written under Count the shelf',
  }),
};

/** Before: what was practised. Then the jar drawn, both ways from it, and the clock. */
export async function practisePage(who: Visitor, jar: string, since: string, sent: Sent = {}) {
  const ground = await formGround(who);
  const now = momentIn(ground.manner.zone, who.desk.now);
  if (jar === '') return { ...plain, running: undefined, held: await practised(who, now) };
  const began = Date.parse(since);
  if (Number.isNaN(began)) return unknown('practice begun at', since);
  const drawn = await jarPage(who, jar);
  if ('problem' in drawn) return drawn;
  const lot = await lotTracePage(who, drawn.pack);
  if ('problem' in lot) return lot;
  return {
    ...plain,
    held: [],
    running: {
      jar: drawn.printed,
      pack: drawn.pack,
      since: momentIn(ground.manner.zone, new Date(began)),
      sinceSent: new Date(began).toISOString(),
      // Without a script the clock stands as it was when the page was drawn.
      gone: elapsed(momentIn(ground.manner.zone, new Date(began)), now),
      up: { boils: drawn.boils, gatherings: drawn.gatherings },
      went: lot.went,
      jars: lot.jars,
      problem: problemView(sent.problem, shelfField),
      fields: formGroups(shelfField, [{ names: ['onShelf'] }], ground, sent)[0]?.fields ?? [],
    },
  };
}

const plain = { title: 'Practise a recall', here: 'season' };

async function practised(who: Visitor, now: string) {
  const all = await recordsOf<SideBody>(who.book.read, who.desk.sugarhouse, 'practice-recall');
  return all
    .reverse()
    .slice(0, 20)
    .map(({ id, body }) => ({
      id,
      when: momentWords(body.at, now),
      seconds: Number(body['seconds'] ?? 0),
      result: String(body['result'] ?? ''),
      by: body.by,
    }));
}
