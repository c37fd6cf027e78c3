import type { VNode } from 'preact';
import type { RecordKind } from '#libs/records/record-types.js';
import type { Rendered } from './parts/drawing.js';

/** Who is signed in. `guest`: by a link; `key`: a script. */
export interface SignedIn {
  readonly kind: 'person' | 'guest' | 'key';
  readonly initials: string;
  readonly role: string;
}

/** The request and the open book, given to every page besides its own props. */
export interface PageContext {
  /** Absent where nobody is signed in. */
  readonly principal: SignedIn | undefined;
  /** Whether the role of whoever is signed in is high enough; false where nobody is. */
  readonly may: (role: 'helper' | 'maker' | 'owner') => boolean;
  readonly mayWrite: (kind: RecordKind) => boolean;
  readonly house: { readonly name: string; readonly prefix: string };
  readonly practice: boolean;
  /** Another sugarhouse's book is open, read only. */
  readonly isOtherHouse: boolean;
  /**
   * A person of the first sugarhouse, which is responsible for the whole book: may check all of it, and its owner may
   * copy it.
   */
  readonly wholeBook: boolean;
  /** May read the books of several sugarhouses. */
  readonly choosesHouse: boolean;
  /** For the hidden field `_once` of a form: the same form sent twice is one entry. */
  readonly once: string;
  /** The book, sugarhouse and person the page is drawn for; `where` names them in words. */
  readonly origin:
    { readonly book: string; readonly house: string; readonly person: string; readonly where: string } | undefined;
  /** Served over TLS, or to this machine itself. */
  readonly isPrivateConnection: boolean;
  /** The messages of the last write, shown once. */
  readonly messages: readonly string[];
  /** The entries that were just saved and can be undone, as in the button's address. */
  readonly undo: string | undefined;
  /** Returns a placeholder for a part rendered earlier; `htmlPage` replaces it with the part. */
  readonly insert: (part: Rendered) => string;
}

/** What the server adds to a page's own props. */
export interface PageProps {
  readonly page: PageContext;
}

/** A page as `htmlPage` takes it: a function of its own props and of the page's context. */
export type PageOf<Props extends object> = (props: Props & PageProps) => VNode;
