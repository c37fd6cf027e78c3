/** A request for a document as the server hands it to the process that makes it. */
export interface DocumentRequest {
  readonly method: 'GET' | 'POST' | 'HEAD';
  readonly url: string;
  readonly headers: Readonly<Record<string, string | readonly string[]>>;
  /** For a form: its fields, hidden ones included, encoded again. */
  readonly payload: string | undefined;
  readonly address: string;
  /** Whether it is for the practice book. */
  readonly practice: boolean;
  /** The server's own port, for pages that show the address for phones. */
  readonly port: number;
}

/** From the server: a document to make, or permission to send the next piece of the current one. */
export type ToProcess = { readonly make: DocumentRequest } | { readonly more: true };

/** From the process: the head of the response, its body in pieces, and its end. */
export type FromProcess =
  | { readonly head: { readonly status: number; readonly headers: AnswerHeaders } }
  | { readonly piece: Uint8Array }
  | { readonly end: { readonly memoryBytes: number; readonly damage: string | undefined } }
  | { readonly failed: string }
  | { readonly log: string; readonly more: Readonly<Record<string, unknown>> };

export type AnswerHeaders = Readonly<Record<string, string | number | readonly string[]>>;
