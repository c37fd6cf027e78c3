/** A request for a document as the server hands it to the process that makes it. */
export interface DocumentRequest {
  readonly method: 'GET' | 'POST' | 'HEAD';
  readonly url: string;
  readonly headers: Readonly<Record<string, string | readonly string[]>>;
  /** Of a form: its fields, the hidden ones too, encoded again. */
  readonly payload: string | undefined;
  readonly address: string;
  /** Whether it comes from the practice book. */
  readonly practice: boolean;
  /** The server's own port, by which pages name how phones reach it. */
  readonly port: number;
}

/** From the server: a document to make, or leave to send the next piece of the one under way. */
export type ToProcess = { readonly make: DocumentRequest } | { readonly more: true };

/** From the process: the head of the answer, its body piece by piece, and its end. */
export type FromProcess =
  | { readonly head: { readonly status: number; readonly headers: AnswerHeaders } }
  | { readonly piece: Uint8Array }
  | { readonly end: { readonly memoryBytes: number; readonly damage: string | undefined } }
  | { readonly failed: string }
  | { readonly log: string; readonly more: Readonly<Record<string, unknown>> };

export type AnswerHeaders = Readonly<Record<string, string | number | readonly string[]>>;
