/** A described route with its query and its fields, each with its examples. */
export interface Operation {
  readonly method: 'GET' | 'POST';
  readonly path: string;
  readonly query: readonly string[];
  readonly fields: readonly (readonly [string, readonly unknown[]])[];
}
/** The parts of the OpenAPI description that are read. */
export interface Described {
  readonly paths: Record<string, Record<string, DescribedOperation>>;
  readonly components: { readonly schemas: Readonly<Record<string, DescribedBody>> };
}
/** A body, or a reference to one among the schemas. */
export interface DescribedBody {
  readonly $ref?: string;
  readonly properties?: Record<string, { examples?: unknown[] }>;
}
/** One method of a path. */
export interface DescribedOperation {
  readonly parameters?: readonly { readonly in: string; readonly name: string }[];
  readonly requestBody?: {
    readonly content?: Record<string, { readonly schema?: DescribedBody }>;
  };
}
