import type { FastifyReply, FastifyRequest } from 'fastify';
import { fieldText } from '#libs/actions/record/problem.js';
import { momentIn } from '#libs/actions/record/times.js';
import { OtherBookPage } from '#pages/problems/other-book.js';
import { type OtherOrigin, originText } from './form-origin.js';
import { isApi, sendDetails } from './problem-filter.js';
import { plainDetails } from './problem-details.js';
import { renderPage } from './render.js';
import { htmlPage } from './responses.js';
import { type Principal, sugarhouseContextFor } from './principal.js';
import { momentText } from '../text/times.js';

/** Lets the page's script tell this refusal, after which an entry stays on the device, from one by a rule. */
const header = 'Boilbook-Other-Book';

/** 409: the book the entry was made for and the open one, what was typed, and how to send it where it belongs. */
export async function refuseOtherOrigin(
  request: FastifyRequest,
  reply: FastifyReply,
  { made, open }: OtherOrigin,
): Promise<FastifyReply> {
  const { principal } = request;
  const openBook = await originText(principal, open);
  const madeFor = made && (await originText(principal, made));
  const sentence = madeFor
    ? `This entry was made for ${madeFor}. Open now is ${openBook}. Nothing was saved.`
    : `This form was made by an earlier version of Boilbook, which did not note for which book. Open now is ${openBook}. Nothing was saved.`;
  const details = plainDetails(409, 'Not saved: made for another book', sentence);
  void reply.header(header, 'yes');
  if (isApi(request)) {
    await sendDetails(request, reply, details);
    return reply;
  }
  const sent = await submittedTexts(request);
  // A password is not written into a page.
  const canResend = !sent.some(([name]) => /password|^word$/.test(name));
  const originFields = Object.entries(made ?? open).map(([name, value]) => [`_${name}`, value] as const);
  const view = {
    title: details.title,
    detail: details.detail,
    here: openBook,
    madeWhere: madeFor,
    isOldForm: made === undefined,
    steps: made ? stepsTo(made, open) : [],
    typed: canResend ? typedFields(sent, await localNow(principal)) : [],
    again: canResend
      ? { action: request.url, fields: [...originFields, ...entryFields(request.hiddenFields), ...sent] }
      : undefined,
  };
  return reply
    .code(409)
    .type('text/html; charset=utf-8')
    .send((await renderPage(request, htmlPage(OtherBookPage, view))).bytes);
}

/** The other hidden fields, so that it is still the same entry when it is sent again. */
const entryFields = (hidden: Readonly<Record<string, string>>): (readonly [string, string])[] =>
  Object.entries(hidden).filter(([name]) => ['_once', '_seen', '_holds', '_do'].includes(name));

/** Name and text of each field; minutes ago become the time they meant when the form was filled. */
async function submittedTexts(request: FastifyRequest): Promise<(readonly [string, string])[]> {
  const { parseOptions: options } = await sugarhouseContextFor(request.principal);
  const { now } = request.principal.writeContext;
  const timeAgo = (minutes: string): string =>
    momentIn(options.zone, new Date(now.getTime() - (minutes === 'now' ? 0 : Number(minutes)) * 60_000));
  const all = Object.entries((request.body ?? {}) as Record<string, unknown>).flatMap(([name, value]) =>
    [value].flat().map((each) => [name, String(each)] as const),
  );
  const typed = new Set(all.filter(([, text]) => text !== '').map(([name]) => name));
  return all.flatMap(([name, text]) => {
    const field = name === 'ago' ? 'takenAt' : name.endsWith('~ago') ? name.slice(0, -'~ago'.length) : undefined;
    if (field === undefined) return [[name, text] as const];
    const isMinutes = text === 'now' || /^\d{1,4}$/.test(text);
    return isMinutes && !typed.has(field) ? [[field, timeAgo(text)] as const] : [];
  });
}

async function localNow(principal: Principal): Promise<string> {
  const { parseOptions: options } = await sugarhouseContextFor(principal);
  return momentIn(options.zone, principal.writeContext.now);
}

/** For a person to read: numbers with their units, times as on other pages, and no blank fields. */
function typedFields(sent: readonly (readonly [string, string])[], now: string): { label: string; text: string }[] {
  const units = new Map(sent.filter(([name]) => name.endsWith('~unit')));
  const textOf = (name: string, text: string): string => {
    if (/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/.test(text)) return momentText(text, now);
    return /^[\d.,]+$/.test(text) && units.has(`${name}~unit`) ? `${text} ${units.get(`${name}~unit`)}` : text;
  };
  return sent
    .filter(([name, text]) => text !== '' && !name.endsWith('~unit'))
    .map(([name, text]) => ({
      label: fieldText(name.replaceAll('~', ' ')),
      text: textOf(name, text),
    }));
}

function stepsTo(made: NonNullable<OtherOrigin['made']>, open: OtherOrigin['open']): string[] {
  const initials = made.person.replace(/^guest /, '');
  if (made.book.startsWith('practice.') && made.book !== open.book)
    return ['It was made in the practice book: most likely you can discard it.'];
  if (made.book !== open.book && open.book.startsWith('practice.'))
    return [`Leave practice (You, Sign out), then sign in as ${initials}, in another tab.`];
  if (made.book !== open.book) return ['It belongs to a book that is not kept here: enter it there.'];
  if (made.person !== open.person) return [`Sign in as ${initials} in another tab. Nobody else can send it.`];
  return ['Open the book of that sugarhouse again in another tab.'];
}
