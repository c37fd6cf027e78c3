/** A constant statement with its values, and the callbacks for its result. */
export interface BatchedStatement {
  readonly name: string;
  readonly text: string;
  readonly values: readonly unknown[];
  readonly resolve: (rows: unknown[]) => void;
  readonly reject: (fault: unknown) => void;
}

/** The driver's connection, as far as a batch needs it. */
export interface DriverConnection {
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
/** The columns of a statement's rows: their names, and how the text of each is parsed. */
interface Shape {
  readonly names: readonly string[];
  readonly parsers: readonly Parser[];
}

/**
 * Several prepared statements sent and answered together: one system call for all, where the driver makes one for each,
 * and no description of columns that this connection has described before. The driver calls its methods as messages
 * arrive. `ended` is called once, with the statements that an error left unanswered.
 */
export class StatementBatch {
  private connection: DriverConnection | undefined;
  private shapes = new Map<string, Shape>();
  /** The statement being answered, and its rows so far. */
  private at = 0;
  private rows: unknown[] = [];

  constructor(
    private readonly statements: readonly BatchedStatement[],
    private readonly parserOf: (dataType: number) => Parser,
    private readonly ended: (fault: unknown, unanswered: readonly BatchedStatement[]) => void,
  ) {}

  submit(connection: DriverConnection): null {
    this.connection = connection;
    this.shapes = shapesOf(connection);
    const sent = new Set<string>();
    connection.stream.cork();
    for (const { name, text, values } of this.statements) {
      const isFirst = !sent.has(name);
      sent.add(name);
      if (isFirst && connection.parsedStatements[name] === undefined) connection.parse({ text, name });
      connection.bind({ statement: name, values, valueMapper: asText });
      if (isFirst && !this.shapes.has(name)) connection.describe({ type: 'P', name: '' });
      connection.execute({});
    }
    connection.sync();
    connection.stream.uncork();
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
    if (!statement || !this.connection) return;
    this.connection.parsedStatements[statement.name] = statement.text;
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

  // The driver may call these too; a read-only statement never causes it.
  handlePortalSuspended(): void {}
  handleEmptyQuery(): void {}
  handleCopyInResponse(): void {}
  handleCopyData(): void {}
}

/** By connection, since the columns of a prepared statement never change on the connection that prepared it. */
const known = new WeakMap<DriverConnection, Map<string, Shape>>();
function shapesOf(connection: DriverConnection): Map<string, Shape> {
  const shapes = known.get(connection) ?? new Map<string, Shape>();
  known.set(connection, shapes);
  return shapes;
}

/** A value in PostgreSQL's text format: text, or an array of texts; anything else becomes NULL. */
function asText(value: unknown): string | null {
  if (typeof value === 'string') return value;
  if (typeof value === 'number') return String(value);
  if (!Array.isArray(value)) return null;
  const quoted = (value as readonly (string | number)[]).map((each) => `"${String(each).replace(/[\\"]/g, '\\$&')}"`);
  return `{${quoted.join(',')}}`;
}
