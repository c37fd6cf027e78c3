/**
 * The index: what queries read. Each table is a pure function of the log, so none is ever migrated: when `indexVersion`
 * changes, all are dropped and the log is replayed.
 */
export const indexVersion = 10;

type ColumnKind = 'key' | 'text' | 'number' | 'count';
export interface IndexTable {
  readonly name: string;
  readonly key: readonly string[];
  /** `key` is compared bytewise and never null; a name that ends in `?` may be null. */
  readonly columns: Readonly<Record<string, ColumnKind | `${ColumnKind}?`>>;
  readonly indexes: readonly (readonly string[])[];
}

const tables = [
  {
    name: 'record',
    key: ['sugarhouse', 'kind', 'id'],
    columns: {
      sugarhouse: 'key',
      kind: 'key',
      id: 'key',
      own_id: 'key?',
      lot: 'key?',
      year: 'count',
      at_text: 'text',
      at_utc: 'key',
      by: 'text',
      written_by: 'text',
      written_at: 'text',
      typed: 'text',
      body: 'text',
      first_seq: 'count',
      last_seq: 'count',
    },
    indexes: [
      ['sugarhouse', 'kind', 'own_id'],
      ['sugarhouse', 'lot', 'kind'],
      ['sugarhouse', 'kind', 'at_utc'],
    ],
  },
  {
    name: 'lot',
    key: ['sugarhouse', 'code'],
    columns: {
      sugarhouse: 'key',
      code: 'key',
      kind: 'key',
      year: 'count',
      at_text: 'text',
      at_utc: 'key',
      state: 'key',
      held_since: 'text?',
      verdict: 'text?',
      // Copied from the verdict, so that no query searches its text: the rules that gave it, blank where none did, and
      // whether it asks for a seal check.
      rules: 'key',
      seal_check_asked: 'count',
      millilitres: 'number?',
      jars: 'count?',
      jar_millilitres: 'number?',
      container: 'text?',
      // For a pack: whether its record says how many seals failed.
      seals_checked: 'count',
      last_seq: 'count',
    },
    indexes: [
      ['sugarhouse', 'kind', 'at_utc'],
      ['sugarhouse', 'state', 'kind'],
      ['sugarhouse', 'kind', 'rules'],
    ],
  },
  {
    name: 'flow',
    key: ['sugarhouse', 'into_lot', 'from_lot', 'kind'],
    columns: {
      sugarhouse: 'key',
      into_lot: 'key',
      from_lot: 'key',
      kind: 'key',
      millilitres: 'number',
      typed: 'text',
      at_utc: 'key',
    },
    indexes: [['sugarhouse', 'from_lot']],
  },
  {
    name: 'jar',
    key: ['code', 'sugarhouse'],
    columns: { sugarhouse: 'key', code: 'key', pack: 'key', n: 'count' },
    indexes: [['sugarhouse', 'pack', 'n']],
  },
  {
    name: 'movement',
    key: ['sugarhouse', 'id'],
    columns: {
      sugarhouse: 'key',
      id: 'key',
      lot: 'key',
      kind: 'key',
      jars: 'count',
      by_codes: 'count',
      sent_at: 'text',
      sent_utc: 'key',
      sent_to: 'text',
      contact: 'text',
      already_left: 'count',
      laboratory: 'count',
      from_returned: 'count',
      back_on_shelf: 'count',
      looked_utc: 'key?',
      stopped: 'count',
    },
    indexes: [
      ['sugarhouse', 'lot'],
      ['sugarhouse', 'sent_utc'],
      ['sugarhouse', 'already_left'],
      ['sugarhouse', 'stopped'],
      ['sugarhouse', 'kind'],
    ],
  },
  {
    name: 'movement_jar',
    key: ['sugarhouse', 'jar', 'movement'],
    columns: { sugarhouse: 'key', jar: 'key', movement: 'key' },
    indexes: [['sugarhouse', 'movement']],
  },
  {
    name: 'shelf_count',
    key: ['sugarhouse', 'id'],
    columns: { sugarhouse: 'key', id: 'key', lot: 'key', jars: 'count', counted_at: 'text', counted_utc: 'key' },
    indexes: [['sugarhouse', 'lot', 'counted_utc']],
  },
  {
    // Voided records, and the entry that voided each: their ids are never reused.
    name: 'voided',
    key: ['sugarhouse', 'kind', 'id'],
    columns: { sugarhouse: 'key', kind: 'key', id: 'key', seq: 'count' },
    indexes: [],
  },
  {
    // Photos of records; the images themselves are rows of household_attachment.
    name: 'photo',
    key: ['sugarhouse', 'seq'],
    columns: {
      sugarhouse: 'key',
      seq: 'count',
      kind: 'key',
      id: 'key',
      sha256: 'key',
      width: 'count',
      height: 'count',
      caption: 'text',
      by: 'text',
      at_text: 'text',
    },
    indexes: [
      ['sugarhouse', 'kind', 'id'],
      ['sugarhouse', 'sha256'],
    ],
  },
  {
    // Which entries belong to a lot's history.
    name: 'lot_entry',
    key: ['sugarhouse', 'lot', 'seq'],
    columns: { sugarhouse: 'key', lot: 'key', seq: 'count', entry_type: 'key', kind: 'text' },
    indexes: [],
  },
] as const satisfies readonly IndexTable[];
export const indexTables: readonly IndexTable[] = tables;

type Table = (typeof tables)[number];
type ColumnValue<K> = K extends `${infer Kind}?`
  ? ColumnValue<Kind> | null
  : K extends 'key' | 'text'
    ? string
    : number;
/**
 * A row of an index table as the driver returns it, by the table's declaration: reading an undeclared column does not
 * compile.
 */
export type RowOf<Name extends Table['name']> = {
  [Column in keyof ColumnsOf<Name>]: ColumnValue<ColumnsOf<Name>[Column]>;
};
type ColumnsOf<Name> = Extract<Table, { name: Name }> extends { columns: infer Columns } ? Columns : never;

/** The statements that create the index tables, and PostgreSQL's staging tables, in the engine's dialect. */
export const createIndex = (engine: 'sqlite' | 'postgres'): string[] => [
  ...indexTables.flatMap((table) => [
    `CREATE TABLE ${table.name} (${columnsOf(table, engine)}, PRIMARY KEY (${table.key.join(', ')}))${engine === 'sqlite' ? ' WITHOUT ROWID' : ''}`,
    ...table.indexes.map(
      (columns) =>
        `CREATE INDEX ${table.name}_by_${columns.slice(1).join('_')} ON ${table.name} (${columns.join(', ')})`,
    ),
  ]),
  ...(engine === 'postgres' ? createStaging() : []),
];

/**
 * Where an import's rows wait before they are moved in. They are no part of the log or the index: verify and backups
 * skip them. A book in a file needs none; one made by an older version keeps its empty ones until its index is rebuilt.
 */
const createStaging = (): string[] => [
  `CREATE TABLE staged_entry (batch ${columnType('key', 'postgres')}, place INTEGER NOT NULL,
     ${['sugarhouse', 'author', 'idempotency_key', 'sent', 'json', 'leaf'].map((name) => `${name} ${columnType('text', 'postgres')}`).join(', ')})`,
  ...indexTables.map(
    (table) =>
      `CREATE TABLE ${stagedName(table)} (batch ${columnType('key', 'postgres')}, ${columnsOf(table, 'postgres')})`,
  ),
];

/** Names that index tables had until `indexVersion` 9. A book that still has them is rebuilt with today's names. */
const formerNames = ['mention', 'shelf'].map((name) => ({ name }));

/** The statements that drop all index tables, staged ones and those with a former name too. */
export const dropIndex = (): string[] =>
  [...[...indexTables, ...formerNames].flatMap((table) => [table.name, stagedName(table)]), 'staged_entry'].map(
    (name) => `DROP TABLE IF EXISTS ${name}`,
  );

/** The name of the table in which rows of an index table are staged. */
export const stagedName = ({ name }: Pick<IndexTable, 'name'>): string => `staged_${name}`;
/** The names of all staging tables. */
export const stagedNames = (): string[] => ['staged_entry', ...indexTables.map(stagedName)];

const columnsOf = (table: IndexTable, engine: 'sqlite' | 'postgres'): string =>
  Object.entries(table.columns)
    .map(([name, kind]) => `${columnName(name)} ${columnType(kind, engine)}`)
    .join(', ');

/** The column names of an index table, in the order of its declaration. */
export const columnNames = (table: IndexTable): string[] => Object.keys(table.columns).map(columnName);

/** A column's name in SQL, of which `by` is a keyword. */
export const columnName = (name: string): string => (name === 'by' ? '"by"' : name);

function columnType(kind: string, engine: 'sqlite' | 'postgres'): string {
  const nullable = kind.endsWith('?');
  const plain = nullable ? kind.slice(0, -1) : kind;
  const type = {
    key: engine === 'sqlite' ? 'TEXT' : 'TEXT COLLATE "C"',
    text: 'TEXT',
    number: engine === 'sqlite' ? 'REAL' : 'DOUBLE PRECISION',
    count: 'INTEGER',
  }[plain];
  return `${type}${nullable ? '' : ' NOT NULL'}`;
}
