/** A fixed statement with its values, and what waits for its rows. */
export interface Asked {
  readonly name: string;
  readonly text: string;
  readonly values: readonly unknown[];
  readonly resolve: (rows: unknown[]) => void;
  readonly reject: (fault: unknown) => void;
}

/** What the driver gives to whatever is sent over one of its connections. */
export interface Wire {
  readonly stream: { cork(): void; uncork(): void };
  readonly parsedStatements: Record<string, string>;
  parse(request: { readonly text: string; readonly name: string }): void;
  bind(request: {
    readonly statement: string;
    readonly values: readonly unknown[];
    readonly valueMapper: (value: unknown) => string | null;
  }): void;
  describe(request: { readonly type: 'P'; readonly name: string }): void;
  execute(request: Record<string, never>): void;
  sync(): void;
}

interface Column {
  readonly name: string;
  readonly dataTypeID: number;
}
type Parser = (value: string) => unknown;
/** How a row of a statement is read: the names of its columns, and what reads the text of each. */
interface Shape {
  readonly names: readonly string[];
  readonly parsers: readonly Parser[];
}

/**
 * Several prepared statements sent in one go and answered in one: a call into the kernel for all of them, where the
 * driver makes one for each, and no description of columns that this connection has described before. The driver calls
 * its methods as the messages come in. `ended` is called once, with what an error left unanswered.
 */
export class StatementBatch {
  private wire: Wire | undefined;
  private shapes = new Map<string, Shape>();
  /** The statement that is being answered, and its rows so far. */
  private at = 0;
  private rows: unknown[] = [];

  constructor(
    private readonly statements: readonly Asked[],
    private readonly parserOf: (dataType: number) => Parser,
    private readonly ended: (fault: unknown, unanswered: readonly Asked[]) => void,
  ) {}

  submit(wire: Wire): null {
    this.wire = wire;
    this.shapes = shapesOf(wire);
    const sent = new Set<string>();
    wire.stream.cork();
    for (const { name, text, values } of this.statements) {
      const isFirst = !sent.has(name);
      sent.add(name);
      if (isFirst && wire.parsedStatements[name] === undefined) wire.parse({ text, name });
      wire.bind({ statement: name, values, valueMapper: asText });
      if (isFirst && !this.shapes.has(name)) wire.describe({ type: 'P', name: '' });
      wire.execute({});
    }
    wire.sync();
    wire.stream.uncork();
    return null;
  }

  handleRowDescription({ fields }: { readonly fields: readonly Column[] }): void {
    this.shapes.set(this.statements[this.at]?.name ?? '', {
      names: fields.map((each) => each.name),
      parsers: fields.map((each) => this.parserOf(each.dataTypeID)),
    });
  }

  handleDataRow({ fields }: { readonly fields: readonly (string | null)[] }): void {
    const { names, parsers } = this.shapes.get(this.statements[this.at]?.name ?? '') ?? { names: [], parsers: [] };
    const row: Record<string, unknown> = {};
    for (const [n, name] of names.entries()) {
      const value = fields[n];
      row[name] = typeof value === 'string' ? parsers[n]?.(value) : null;
    }
    this.rows.push(row);
  }

  handleCommandComplete(): void {
    const statement = this.statements[this.at++];
    if (!statement || !this.wire) return;
    this.wire.parsedStatements[statement.name] = statement.text;
    const { rows } = this;
    this.rows = [];
    statement.resolve(rows);
  }

  handleReadyForQuery(): void {
    this.ended(undefined, []);
  }

  handleError(fault: unknown): void {
    this.ended(fault, this.statements.slice(this.at));
  }

  // The driver may call these too; no statement that only looks up brings them about.
  handlePortalSuspended(): void {}
  handleEmptyQuery(): void {}
  handleCopyInResponse(): void {}
  handleCopyData(): void {}
}

/** By connection, since what a prepared statement answers with never changes on the connection that prepared it. */
const known = new WeakMap<Wire, Map<string, Shape>>();
function shapesOf(wire: Wire): Map<string, Shape> {
  const shapes = known.get(wire) ?? new Map<string, Shape>();
  known.set(wire, shapes);
  return shapes;
}

/** A value as PostgreSQL reads it: text, or a list of texts; anything else is its NULL. */
function asText(value: unknown): string | null {
  if (typeof value === 'string') return value;
  if (typeof value === 'number') return String(value);
  if (!Array.isArray(value)) return null;
  const quoted = (value as readonly (string | number)[]).map((each) => `"${String(each).replace(/[\\"]/g, '\\$&')}"`);
  return `{${quoted.join(',')}}`;
}
