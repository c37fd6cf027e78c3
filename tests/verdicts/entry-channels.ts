import { columnName } from '#libs/actions/record/fields.js';
import { importKinds } from '#libs/actions/kinds/registry.js';
import { originOn, posted, type TestServer } from '../support/server.js';
import type { Step, Texts } from './verdict-case.js';

/** Whether a step was accepted, and the answer. */
export interface Answered {
  readonly taken: boolean;
  readonly text: string;
  readonly status: number;
}

/** One way to enter a step into a house’s record: API, files or forms. */
export interface EntryChannel {
  readonly name: 'API' | 'import' | 'page';
  /** `key` marks the same step sent again, where the way in knows keys: files do not. */
  take(step: Step, key?: string): Promise<Answered>;
}

export interface Principal {
  readonly at: TestServer;
  /** A script's key with an owner’s rights in the house. */
  readonly key: string;
  /** The cookie of its owner, signed in. */
  readonly cookie: string;
}

type Reply = Awaited<ReturnType<TestServer['web']['inject']>>;

export function apiChannel({ at, key }: Principal): EntryChannel {
  const send = async (url: string, body: unknown, once?: string): Promise<Answered> =>
    byStatus(
      await at.web.inject({
        method: 'POST',
        url,
        payload: JSON.stringify(body),
        headers: {
          'content-type': 'application/json',
          authorization: `Bearer ${key}`,
          ...(once === undefined ? {} : { 'idempotency-key': once }),
        },
      }),
      [200, 201],
    );
  return {
    name: 'API',
    take: (step, once) => {
      if ('record' in step) return send(`/api/${step.record}`, step.fields, once);
      if ('add' in step) return send(`/api/${step.add}/${encodeURIComponent(step.to)}/additions`, step.fields, once);
      if ('correct' in step)
        return send('/api/corrections', { entry: step.of, why: step.why, changes: step.fields }, once);
      if ('void' in step) return send('/api/voids', { entry: step.of, why: step.why }, once);
      return send(`/api/lots/${encodeURIComponent(step.lot)}/${step.mark}`, step.fields, once);
    },
  };
}

/** A one-row file where files hold the kind; everything else through the API. */
export function importChannel(principal: Principal): EntryChannel {
  const { at, key } = principal;
  const api = apiChannel(principal);
  return {
    name: 'import',
    take: async (step, once) => {
      if (!('record' in step) || !importKinds.some((kind) => kind.plural === step.record)) return api.take(step, once);
      const names = Object.keys(step.fields);
      const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
      const file = [names.map(columnName).join(','), names.map((name) => quoted(step.fields[name] ?? '')).join(',')];
      const reply = await at.web.inject({
        method: 'POST',
        url: `/api/imports/${step.record}`,
        payload: `${file.join('\r\n')}\r\n`,
        headers: { 'content-type': 'text/csv', authorization: `Bearer ${key}` },
      });
      return byStatus(reply, [200, 201]);
    },
  };
}

/** The forms, as a browser posts them. */
export function pageChannel(principal: Principal): EntryChannel {
  const { at, cookie } = principal;
  const api = apiChannel(principal);
  let sent = 0;
  let origin: Promise<Record<string, string>> | undefined;
  const send = async (url: string, fields: Texts, once = `case-${++sent}`): Promise<Answered> => {
    // One person in one house: what a page says of whom it was drawn for stays the same.
    origin ??= originOn(at, cookie);
    const reply = await posted(at, url, { ...(await origin), _once: once, ...fields }, { cookie });
    return byStatus(reply, [303]);
  };
  return {
    name: 'page',
    take: (step, once) => {
      // Each kind of line in a boil's log has its own page; labels are printed, and only a script records a run of others.
      if ('record' in step && ['lines', 'label-runs'].includes(step.record)) return api.take(step, once);
      if ('record' in step)
        return send(
          formOf(step.record, step.fields),
          { ...asPosted(step.fields), ...sealTime(step.record, step.fields) },
          once,
        );
      if ('add' in step && step.add === 'receipts')
        return send(`/sap/receipts/${step.to}/allergens`, step.fields, once);
      // Only a pack has a page to fill in other blank fields; other additions go through the API.
      if ('add' in step && step.add !== 'packs') return api.take(step, once);
      if ('add' in step) return send(`/${step.add}/${step.to}/looks`, asPosted(step.fields), once);
      if ('correct' in step) {
        // A blank box changes nothing: a value is taken out by its tick, of which a case has one at most.
        const [struck] = Object.keys(step.fields).filter((name) => step.fields[name] === '');
        const fields = {
          ...asPosted(step.fields),
          ...(struck === undefined ? {} : { 'correction~strike': struck }),
          why: step.why,
        };
        return send(`/records/${step.correct}/${encodeURIComponent(step.of)}/correct`, fields, once);
      }
      if ('void' in step)
        return send(`/records/${step.void}/${encodeURIComponent(step.of)}/void`, { why: step.why }, once);
      return send(`/lots/${step.lot}/${step.mark}`, step.fields, once);
    },
  };
}

const forms: Readonly<Record<string, string>> = {
  gatherings: '/sap/gather',
  receipts: '/sap/receive',
  boils: '/boils/finished',
  packs: '/packs/finished',
  dispatches: '/dispatches/new',
  counts: '/dispatches/count',
};
function formOf(plural: string, fields: Texts): string {
  if (plural === 'answers') return `/lots/${fields['lot'] ?? ''}/answer`;
  if (plural === 'actions') return `/lots/${fields['lot'] ?? ''}/act`;
  return forms[plural] ?? `/supporting-records/${plural}/new`;
}

/** The form for a pack from paper needs the time of a seal count: here the day after. */
const sealTime = (plural: string, { sealsFailed = '', packedAt }: Texts): Texts =>
  plural === 'packs' && sealsFailed !== ''
    ? { sealsAt: new Date(Date.parse(`${String(packedAt).slice(0, 10)}T12:00:00Z`) + 86_400_000).toISOString() }
    : {};

/** Lots that went in are posted as one text; everything else by its name. */
function asPosted(fields: Texts): Texts {
  const portions = ['gatherings', 'carriedFrom', 'fromLots'];
  return Object.fromEntries(
    Object.entries(fields).map(([name, text]) => [portions.includes(name) ? `${name}~more` : name, text]),
  );
}

function byStatus(reply: Reply, good: readonly number[]): Answered {
  const text = reply.body
    .replace(/<(script|style)[\s\S]*?<\/\1>/g, ' ')
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&quot;', '"')
    .replace(/\s+/g, ' ');
  // A full disk answers 503, which is no bug.
  if (reply.statusCode >= 500 && reply.statusCode !== 503)
    throw new Error(`${reply.statusCode}: ${text.slice(0, 500)}`);
  const turnedAway = String(reply.headers.location ?? '').startsWith('/sign-in');
  return { taken: good.includes(reply.statusCode) && !turnedAway, text, status: reply.statusCode };
}
