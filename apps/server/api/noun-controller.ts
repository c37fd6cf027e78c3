import { Body, Controller, Get, Param, Post, Query, type Type } from '@nestjs/common';
import { z } from 'zod';
import { withArticle } from '#libs/format/with-article.js';
import { type Fields, splitList } from '#libs/actions/record/fields.js';
import { recordSchema } from '#libs/actions/record/field-schema.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import { record, type Recorded, type RecordOptions } from '#libs/actions/record/record.js';
import { lowestRequiredRole } from '#libs/actions/accounts/rights.js';
import { type Place, recordsBehind } from '#libs/store/queries/lists.js';
import { RequireRole } from '../http/access.js';
import { type ApiSaved, apiSaved } from '../http/responses.js';
import { requireRight, refuseForeignInitials } from '../http/may-write.js';
import { parseWith } from '../http/parse-with.js';
import { type Principal, CurrentPrincipal, readerOf } from '../http/principal.js';
import { withFirstOutcome, listAnswer, recordAndOutcome, recordAnswer } from './answers/record-answers.js';
import { componentName } from './json-schema.js';
import { Describe } from './operation.js';
import { findStored, recordView, type RecordView, recordViews } from './record-view.js';
import { jsonObject } from './json-object.js';

export interface Noun {
  readonly kind: Kind;
  /** The same kind while its work is still in progress, for kinds that allow it. */
  readonly underway?: Kind | undefined;
}

const listQuery = z.object({
  year: z
    .string()
    .regex(/^20\d\d$/, 'a year like 2026')
    .optional(),
  from: z.coerce.number().int().min(0).max(10_000_000).default(0),
  after: z
    .string()
    .max(300)
    .regex(/^[^~]+~/, 'the position after the previous page, copied from its `next`')
    .optional(),
  most: z.coerce.number().int().min(1).max(500).default(100),
});

/** A position in a list, for `next`: by time and id, so that concurrent writes don't shift the next page. */
const formatPosition = ({ atUtc, id }: Place): string => `${atUtc}~${id}`;
function parsePosition(text: string): Place {
  const separator = text.indexOf('~');
  return { atUtc: text.slice(0, separator), id: text.slice(separator + 1) };
}

/** The routes of one kind of record, made from the same table of fields as forms and files. */
export function nounController(noun: Noun): Type<unknown> {
  const { kind, underway } = noun;
  // A boil or pack under way may need a lower role than a finished one, depending on the body.
  const writeRole = lowestRequiredRole(underway ?? kind);
  const path = `api/${kind.plural}`;
  const shapes = shapesOf({ kind, underway });

  @Controller(path)
  class NounController {
    @Get()
    @Describe({
      summary: `Lists every ${kind.noun}, oldest first, a page at a time; with year, those of that year`,
      query: listQuery,
      answers: shapes.list,
    })
    async list(
      @CurrentPrincipal() principal: Principal,
      @Query(parseWith(listQuery)) request: ListQuery,
    ): Promise<object> {
      return readList(principal, kind, path, request);
    }

    @Get(':id')
    @Describe({ summary: `One ${kind.noun}`, answers: shapes.one })
    async one(@CurrentPrincipal() principal: Principal, @Param('id') id: string): Promise<RecordView | Refusal> {
      const saved = await findStored(readerOf(principal), kind, id);
      return saved ? recordView(readerOf(principal), kind, saved) : unknown(kind.noun, id);
    }

    @Post()
    @RequireRole(writeRole)
    @Describe({
      summary: `Records ${withArticle(kind.noun)}`,
      body: shapes.body,
      bodyExample: shapes.example,
      answers: shapes.recorded,
      writes: true,
    })
    async add(
      @CurrentPrincipal() principal: Principal,
      @Body(jsonObject) sent: Record<string, unknown>,
    ): Promise<ApiSaved | Refusal> {
      return addRecord(principal, noun, sent);
    }

    @Post(':id/additions')
    @RequireRole(writeRole)
    @Describe({
      summary: `Adds values that were left blank in ${withArticle(kind.noun)}, or items to one of its lists`,
      body: shapes.additions,
      bodyExample: shapes.addition,
      answers: shapes.recorded,
      writes: true,
    })
    async addTo(
      @CurrentPrincipal() principal: Principal,
      @Param('id') id: string,
      @Body(jsonObject) sent: Record<string, unknown>,
    ): Promise<ApiSaved | Refusal> {
      return addToRecord(principal, noun, id, sent);
    }
  }

  Object.defineProperty(NounController, 'name', { value: `${kind.noun.replace(/\W+/g, '')}Controller` });
  return NounController;
}

async function addRecord(
  principal: Principal,
  noun: Noun,
  sent: Readonly<Record<string, unknown>>,
): Promise<ApiSaved | Refusal> {
  const target = kindFor(noun, sent, {});
  requireRight(principal, target, sent);
  const refusal = refuseForeignInitials(principal, sent['by']);
  if (refusal) return refusal;
  const done = await record(principal.book, writeContextOf(principal, sent), target, sent);
  return savedResponse(principal, noun.kind, done);
}

async function addToRecord(
  principal: Principal,
  noun: Noun,
  id: string,
  sent: Readonly<Record<string, unknown>>,
): Promise<ApiSaved | Refusal> {
  const { kind, underway } = noun;
  const saved = await findStored(readerOf(principal), kind, id);
  if (!saved) return unknown(kind.noun, id);
  requireRight(principal, underway ?? kind, sent, true);
  const refusal = refuseForeignInitials(principal, sent['by']);
  if (refusal) return refusal;
  const options: RecordOptions = { add: true, of: saved.id };
  const target = kindFor(noun, sent, saved.typed);
  const done = await record(principal.book, writeContextOf(principal, sent), target, sent, options);
  return savedResponse(principal, kind, done);
}

type ListQuery = z.infer<typeof listQuery>;

/** One page of the records of a kind, with the path of the next page. */
async function readList(principal: Principal, kind: Kind, path: string, request: ListQuery): Promise<object> {
  const reader = readerOf(principal);
  const { count, records, more } = await recordsBehind(reader, kind.kind, {
    year: request.year ? Number(request.year) : undefined,
    behind: request.after === undefined ? undefined : parsePosition(request.after),
    skip: request.from,
    most: request.most,
  });
  const last = records.at(-1);
  const query = new URLSearchParams({
    ...(request.year ? { year: request.year } : {}),
    ...(last ? { after: formatPosition(last) } : {}),
    most: String(request.most),
  });
  const items = await recordViews(reader, kind, records);
  return { items, all: count, next: more ? `/${path}?${query}` : null };
}

/**
 * The kind that a body is recorded as: a boil without its syrup, a pack without its jars, is still under way. Takes the
 * field `underway`, which is no field of the record, out of the body.
 */
function kindFor(
  { kind, underway }: Noun,
  sent: Record<string, unknown>,
  saved: Readonly<Record<string, unknown>>,
): Kind {
  const completingField = kind.kind === 'boil' ? 'syrupVolume' : 'jars';
  const isUnderway =
    sent['underway'] === true || (Object.keys(saved).length > 0 && !saved[completingField] && !sent[completingField]);
  delete sent['underway'];
  return underway && isUnderway ? underway : kind;
}

async function savedResponse(principal: Principal, kind: Kind, done: Recorded | Refusal): Promise<ApiSaved | Refusal> {
  if ('problem' in done) return done;
  const saved = await findStored(readerOf(principal), kind, done.id);
  const view = saved ? await recordView(readerOf(principal), kind, saved) : {};
  const path = `/api/${kind.plural}/${encodeURIComponent(done.id)}`;
  return apiSaved(path, { ...view, ...withFirstOutcome(done) }, done.outcome);
}

/** The request and response shapes of a kind, from the one table of its fields. */
function shapesOf({ kind, underway }: { kind: Kind; underway: Kind | undefined }) {
  const name = componentName(kind.noun);
  const fields = (underway ?? kind).fields;
  const sent = recordSchema(fields);
  const withUnderway = underway
    ? sent.extend({
        underway: z
          .boolean()
          .optional()
          .meta({ description: 'True while it is in progress, with values still to come' }),
      })
    : sent;
  const one = recordAnswer(kind).meta({ id: name });
  return {
    body: withUnderway.meta({ id: `New${name}` }),
    additions: withUnderway.partial().meta({ id: `AddTo${name}` }),
    example: exampleOf(kind.fields),
    addition: additionOf(fields),
    one,
    recorded: recordAndOutcome(kind).meta({ id: `${name}Recorded` }),
    list: listAnswer(one).meta({ id: `${name}List` }),
  };
}

/** One field that may be left blank at first. */
const additionOf = (fields: Fields): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(fields)
      .filter(([name, field]) => !field.needed && name !== 'by')
      .map(([name, { example, choices = [], list }]) => {
        const text = example || choices[0] || '';
        return [name, list ? splitList(text) : text] as const;
      })
      .filter(([, value]) => value.length > 0)
      .slice(-1),
  );

const exampleOf = (fields: Fields): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(fields)
      .filter(([, field]) => field.needed)
      .map(([name, { example, choices = [], label, list }]) => {
        const text = example || choices[0] || label;
        return [name, list ? splitList(text) : text];
      }),
  );

/** A script may give the initials of the record; a person's are always their own. */
function writeContextOf(principal: Principal, sent: Readonly<Record<string, unknown>>): Principal['writeContext'] {
  const by =
    principal.kind === 'key' && typeof sent['by'] === 'string' && sent['by'].trim() !== ''
      ? sent['by'].trim()
      : undefined;
  return by === undefined ? principal.writeContext : { ...principal.writeContext, by };
}
