import type { FastifyRequest } from 'fastify';
import { invalid } from '#libs/actions/record/problem.js';
import { Refused } from '../../http/refused.js';

export interface Upload {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly fields: Readonly<Record<string, string>>;
}

/** The file of a form and its other fields. Pasted rows are used where no file was chosen. */
export async function readUpload(request: FastifyRequest): Promise<Upload> {
  const fields: Record<string, string> = {};
  let bytes: Uint8Array = new Uint8Array();
  let name = '';
  if (!request.isMultipart()) return { name, bytes, fields };
  try {
    for await (const part of request.parts())
      if (part.type === 'file') {
        const sent = await part.toBuffer();
        if (sent.length > 0) [bytes, name] = [sent, part.filename || 'file.csv'];
      } else if (typeof part.value === 'string') fields[part.fieldname] = part.value;
  } catch (fault) {
    // The plugin's refusals have a status (too large, too many); the parser's own errors have none.
    if (typeof (fault as { statusCode?: unknown }).statusCode === 'number') throw fault;
    throw new Refused(invalid('body', 'a whole multipart form', 'one that is broken or breaks off').problem);
  }
  const pasted = fields['rows'] ?? '';
  if (bytes.length === 0 && pasted.trim() !== '') return { name: 'Pasted rows', bytes: Buffer.from(pasted), fields };
  return { name: name.slice(0, 80), bytes, fields };
}
