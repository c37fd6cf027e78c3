import type { Writable } from 'node:stream';
import type { VNode } from 'preact';
import type { RecordKind } from '#libs/records/record-types.js';
import { isUndoable } from '#libs/actions/record/undo-entry.js';
import { isRefusal, type Refusal } from '#libs/actions/record/problem.js';
import { Layout, type LayoutProps } from '#pages/layout.js';
import type { PageContext, PageOf } from '#pages/page-context.js';
import { Prerendered, type Rendered } from '#pages/parts/drawing.js';

/** What a controller's method returns, other than a value (JSON) or a refusal. */
export class HtmlPage {
  constructor(
    /** Its component, which still needs the page's context. */
    readonly content: (page: PageContext) => VNode,
    readonly status: number,
    /** Called with the page without what differs by person, where its body is the same for all of a role. */
    readonly cacheBody?: (cached: CachedPage) => void,
  ) {}
}

/** A page whose body was rendered before: its `Layout`, which names the person, is rendered for each request. */
export interface CachedPage {
  readonly layout: Omit<LayoutProps, 'page' | 'children'>;
  readonly body: Rendered;
}

/** The page around a body that was rendered before. */
export const cachedPage = ({ layout, body }: CachedPage): HtmlPage =>
  new HtmlPage((page) => Layout({ ...layout, page, children: Prerendered({ part: body, page }) }), 200);

export class Redirect {
  constructor(
    readonly to: string,
    readonly notes: readonly string[],
    /** The entries that the next page offers to undo. */
    readonly undo: readonly number[] = [],
  ) {}
}
export class Download {
  constructor(
    readonly name: string,
    readonly type: string,
    readonly write: (out: Writable) => Promise<Refusal | void>,
    readonly inline: boolean,
  ) {}
}
export class ApiSaved {
  constructor(
    readonly at: string,
    readonly body: object,
    readonly status: 200 | 201,
    /** It was written by an earlier request with the same key. */
    readonly isRepeat = false,
  ) {}
}

/**
 * A component of templates/pages with its props: `htmlPage(DispatchListPage, { rows })`, `htmlPage(FormPage, {…}, 422)` where a
 * form is shown again. A missing prop does not compile.
 */
export const htmlPage = <Props extends object>(
  component: PageOf<Props>,
  props: NoInfer<Props>,
  status = 200,
  cacheBody?: (cached: CachedPage) => void,
): HtmlPage => new HtmlPage((page) => component({ ...props, page }), status, cacheBody);

/** The page, or the refusal where its props could not be read: `pageOr(LotPage, await lotProps(…))`. */
export const pageOr = <Props extends object>(
  component: PageOf<Props>,
  props: NoInfer<Props> | Refusal,
  status = 200,
): HtmlPage | Refusal => (isRefusal(props) ? props : htmlPage(component, props, status));

/** After a write: 303 to the page that shows it, a path of ours only; that page shows the notes once. */
export const redirect = (to: string, notes: readonly string[] = []): Redirect => new Redirect(to, notes);

interface SavedEntry {
  readonly entry: number;
  readonly outcome: string;
  readonly notes: readonly string[];
}

/** The same after a record was saved, with a button that undoes the entry; for a tray, all of its entries or none. */
export const redirectToSaved = (
  to: string,
  saved: SavedEntry | readonly SavedEntry[],
  { kind, notes = [] }: { readonly kind: RecordKind; readonly notes?: readonly string[] },
): Redirect => {
  const entries = [saved].flat();
  const undo = entries.every(({ outcome }) => isUndoable(outcome, kind)) ? entries.map(({ entry }) => entry) : [];
  const unchanged = entries.every(({ outcome }) => outcome === 'same') ? [nothingNewText] : [];
  return new Redirect(to, [...unchanged, ...notes, ...entries.flatMap((each) => each.notes)], undo);
};

/** A form left blank, or with what is recorded already, must not look as if it was saved. */
const nothingNewText = 'Nothing new was entered, so nothing was saved.';

/** A file, streamed as it is made. A refusal before the first byte is answered as such. */
export const download = (
  name: string,
  type: string,
  write: (out: Writable) => Promise<Refusal | void>,
  inline = false,
): Download => new Download(name, type, write, inline);

/**
 * For the API: 201 with its Location once committed, or 200 where nothing had to be written (`same`). A request sent again
 * with its key (`again`) gets 201 as the first did.
 */
export const apiSaved = (at: string, body: object, outcome: SavedEntry['outcome'] = 'new'): ApiSaved =>
  new ApiSaved(at, body, outcome === 'same' ? 200 : 201, outcome === 'again');
