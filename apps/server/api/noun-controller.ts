import { Body, Controller, Get, Param, Post, Query, type Type } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiTags } from '@nestjs/swagger';
import { z } from 'zod';
import { shapeOf } from '#libs/actions/record/fields.js';
import type { Kind } from '#libs/actions/record/kind.js';
import { type Refusal, unknown } from '#libs/actions/record/problem.js';
import { record, type Recorded, type Ways } from '#libs/actions/record/record.js';
import { lowestRight } from '#libs/actions/accounts/rights.js';
import { type Place, recordsBehind } from '#libs/store/queries/lists.js';
import { For } from '../http/access.js';
import { type Made, made } from '../http/responses.js';
import { demandRight, signsForAnother } from '../http/may-write.js';
import { parseWith } from '../http/parse-with.js';
import { type Visitor, Who } from '../http/principal.js';
import { asksInQuery, jsonSchema } from './json-schema.js';
import { findKept, recordView, type RecordView, recordViews } from './record-view.js';
import { sentObject } from './sent-object.js';

export interface Noun {
  readonly kind: Kind;
  /** The same record while it is still under way, where it may be. */
  readonly underway?: Kind;
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
    .regex(/^[^~]+~/, 'the place where the page before ended, as its `next` says it')
    .optional(),
  most: z.coerce.number().int().min(1).max(500).default(100),
});

/** Where a page ended, as `next` carries it: by time and id, so that what is written meanwhile moves nothing. */
const placeText = ({ atUtc, id }: Place): string => `${atUtc}~${id}`;
function placeFrom(text: string): Place {
  const mark = text.indexOf('~');
  return { atUtc: text.slice(0, mark), id: text.slice(mark + 1) };
}

/** The routes of one kind of record: all of them alike, made from the same table of fields as forms and files. */
export function nounController({ kind, underway }: Noun): Type<unknown> {
  // A boil or a pack as it goes may be for more people than a whole one, which the body tells.
  const writer = lowestRight(underway ?? kind);
  const path = `api/${kind.plural}`;
  const body = { schema: jsonSchema(shapeOf((underway ?? kind).fields, kind.noun)) };

  @ApiTags(kind.plural)
  @Controller(path)
  class NounController {
    @Get()
    @ApiOperation({ summary: `Every ${kind.noun}, oldest first; of one year, a page at a time` })
    @asksInQuery(listQuery)
    async list(@Who() who: Visitor, @Query(parseWith(listQuery)) asked: z.infer<typeof listQuery>): Promise<object> {
      const { read } = who.book;
      const year = asked.year ? Number(asked.year) : undefined;
      const behind = asked.after === undefined ? undefined : placeFrom(asked.after);
      const part = { year, behind, skip: asked.from, most: asked.most };
      const { count, records, more } = await recordsBehind(read, who.desk.sugarhouse, kind.kind, part);
      const last = records.at(-1);
      const query = new URLSearchParams({
        ...(asked.year ? { year: asked.year } : {}),
        ...(last ? { after: placeText(last) } : {}),
        most: String(asked.most),
      });
      const items = await recordViews(read, who.desk.sugarhouse, kind, records);
      return { items, all: count, next: more ? `/${path}?${query}` : null };
    }

    @Get(':id')
    @ApiOperation({ summary: `One ${kind.noun}` })
    async one(@Who() who: Visitor, @Param('id') id: string): Promise<RecordView | Refusal> {
      const kept = await findKept(who.book.read, who.desk.sugarhouse, kind, id);
      return kept ? recordView(who.book.read, who.desk.sugarhouse, kind, kept) : unknown(kind.noun, id);
    }

    @Post()
    @For(writer)
    @ApiOperation({ summary: `Records a ${kind.noun}; answers 201 once it is committed` })
    @ApiBody(body)
    async add(@Who() who: Visitor, @Body(sentObject) sent: Record<string, unknown>): Promise<Made | Refusal> {
      const meant = kindFor(sent, {});
      demandRight(who, meant, sent);
      const refusal = signsForAnother(who, sent['by']);
      return refusal ?? answered(who, await record(who.book, deskOf(who, sent), meant, sent));
    }

    @Post(':id/additions')
    @For(writer)
    @ApiOperation({ summary: `Fills in what was left blank of a ${kind.noun}, or adds to a list of it` })
    @ApiBody({ schema: { type: 'object', additionalProperties: true } })
    async addTo(
      @Who() who: Visitor,
      @Param('id') id: string,
      @Body(sentObject) sent: Record<string, unknown>,
    ): Promise<Made | Refusal> {
      const kept = await findKept(who.book.read, who.desk.sugarhouse, kind, id);
      if (!kept) return unknown(kind.noun, id);
      demandRight(who, underway ?? kind, sent);
      const refusal = signsForAnother(who, sent['by']);
      if (refusal) return refusal;
      const ways: Ways = { add: true, of: kept.id };
      return answered(who, await record(who.book, deskOf(who, sent), kindFor(sent, kept.typed), sent, ways));
    }
  }

  /** A boil without its syrup, a pack without its jars, is still under way. */
  const kindFor = (sent: Readonly<Record<string, unknown>>, kept: Readonly<Record<string, unknown>>): Kind => {
    const last = kind.kind === 'boil' ? 'syrupVolume' : 'jars';
    const isUnderway = sent['underway'] === true || (Object.keys(kept).length > 0 && !kept[last] && !sent[last]);
    delete (sent as Record<string, unknown>)['underway'];
    return underway && isUnderway ? underway : kind;
  };

  const answered = async (who: Visitor, done: Recorded | Refusal): Promise<Made | Refusal> => {
    if ('problem' in done) return done;
    const kept = await findKept(who.book.read, who.desk.sugarhouse, kind, done.id);
    const view = kept ? await recordView(who.book.read, who.desk.sugarhouse, kind, kept) : {};
    const isNew = done.outcome !== 'same' && done.outcome !== 'again';
    return made(`/${path}/${encodeURIComponent(done.id)}`, { ...view, ...done }, isNew);
  };

  Object.defineProperty(NounController, 'name', { value: `${kind.noun.replace(/\W+/g, '')}Controller` });
  return NounController;
}

/** A script may say whose initials stand in the record; a person's own are those they signed in with. */
function deskOf(who: Visitor, sent: Readonly<Record<string, unknown>>): Visitor['desk'] {
  const by =
    who.kind === 'key' && typeof sent['by'] === 'string' && sent['by'].trim() !== '' ? sent['by'].trim() : undefined;
  return by === undefined ? who.desk : { ...who.desk, by };
}
