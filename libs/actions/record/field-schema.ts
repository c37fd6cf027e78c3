import { z } from 'zod';
import type { Fields } from './fields.js';

/**
 * The schema of a record sent as JSON or by a form: texts by field name, lists as lists or separated by `;`.
 * `readFields` parses the values, since it knows the book's zone and gallon.
 */
export function recordSchema(fields: Fields): z.ZodObject<Record<string, z.ZodType>, z.core.$strict> {
  const shape: Record<string, z.ZodType> = {};
  for (const [name, field] of Object.entries(fields)) {
    const described = {
      description: [field.label, field.hint].filter(Boolean).join('. '),
      ...(field.example ? { examples: [field.list ? [field.example] : field.example] } : {}),
    };
    const one = z.string().max(field.letters);
    const value = field.list ? z.union([z.array(one).max(field.items), z.string()]) : z.union([one, z.number()]);
    shape[name] = (field.needed ? value : value.nullish()).meta(described);
  }
  return z.strictObject(shape);
}
