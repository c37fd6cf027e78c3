import { Layout } from '../layout.js';
import type { PageProps } from '../page-context.js';

interface ApiReferenceSchema {
  readonly name: string;
  readonly description: string;
  readonly fields: readonly ApiReferenceField[];
  readonly type: string;
}

interface ApiReferenceField {
  readonly name: string;
  readonly type: string;
  readonly link: string;
  readonly required: boolean;
  readonly description: string;
  readonly example: string;
}

interface ApiReferenceOperation {
  readonly id: string;
  readonly method: string;
  readonly path: string;
  readonly description: string;
  readonly open: boolean;
  readonly parameters: readonly ApiReferenceParameter[];
  readonly body: { readonly media: string; readonly schema: string; readonly example: string } | undefined;
  readonly answers: readonly ApiReferenceAnswer[];
}

interface ApiReferenceAnswer {
  readonly status: string;
  readonly media: string;
  readonly description: string;
  readonly schema: string;
}

interface ApiReferenceParameter {
  readonly name: string;
  readonly where: 'path' | 'query' | 'header';
  readonly required: boolean;
  readonly description: string;
  readonly type: string;
}

export interface ApiReferencePageProps {
  readonly title: string;
  readonly here: string;
  readonly about: string;
  readonly tags: readonly {
    readonly name: string;
    readonly description: string;
    readonly operations: readonly ApiReferenceOperation[];
  }[];
  readonly schemas: readonly ApiReferenceSchema[];
}

/** The API reference: operations and schemas, from the OpenAPI description. */
export const ApiReferencePage = ({ title, here, about, tags, schemas, page }: ApiReferencePageProps & PageProps) => (
  <Layout page={page} title={title} here={here}>
    <h1>API reference</h1>
    <p>{about}</p>
    <p>
      For programs: <a href="/api/openapi.json">the description as OpenAPI 3.1</a>. A key is added by the owner and sent
      as <span class="code">Authorization: Bearer KEY</span>.
    </p>
    {tags.map((tag) => (
      <>
        <h2>{tag.name}</h2>
        <p>{tag.description}</p>
        <details class="more">
          <summary>
            {tag.operations.length === 1 ? 'One operation' : `The ${tag.operations.length} operations`}
            <span class="unseen"> of {tag.name}</span>
          </summary>
          {tag.operations.map((one) => (
            <Operation {...one} />
          ))}
        </details>
      </>
    ))}
    <h2>Schemas</h2>
    {schemas.map((schema) => (
      <Schema {...schema} />
    ))}
  </Layout>
);

const Operation = (one: ApiReferenceOperation) => (
  <>
    <h3 id={one.id}>
      <span class="code">
        {one.method} {one.path}
      </span>
    </h3>
    <p>
      {one.description}
      {!one.open && ' Needs a key.'}
    </p>
    {one.parameters.length > 0 && (
      <ul>
        {one.parameters.map((parameter) => (
          <li>
            <span class="code">{parameter.name}</span> ({parameter.where}, {parameter.type}
            {parameter.required && ', required'}) {parameter.description}
          </li>
        ))}
      </ul>
    )}
    {one.body && (
      <>
        <p>
          Body: {one.body.media}
          {one.body.schema && (
            <>
              , <a href={`#s-${one.body.schema}`}>{one.body.schema}</a>
            </>
          )}
        </p>
        {one.body.example && <pre tabindex={0}>{one.body.example}</pre>}
      </>
    )}
    <ul>
      {one.answers.map((answer) => (
        <li>
          {answer.status} {answer.media}
          {answer.schema && (
            <>
              , <a href={`#s-${answer.schema}`}>{answer.schema}</a>
            </>
          )}
          : {answer.description}
        </li>
      ))}
    </ul>
  </>
);

const Schema = (schema: ApiReferenceSchema) => (
  <>
    <h3 id={`s-${schema.name}`}>{schema.name}</h3>
    {schema.description && <p>{schema.description}</p>}
    {schema.fields.length > 0 ? (
      <ul>
        {schema.fields.map((field) => (
          <li>
            <span class="code">{field.name}</span> (
            {field.link ? <a href={`#s-${field.link}`}>{field.type}</a> : field.type}
            {field.required && ', required'}) {field.description}
            {field.example && (
              <>
                {' '}
                For example <span class="code">{field.example}</span>
              </>
            )}
          </li>
        ))}
      </ul>
    ) : (
      <p>{schema.type}</p>
    )}
  </>
);
