import type { z } from 'zod';

/**
 * What a field expects, in words: an error map for zod, whose own sentences name its types (`expected string, received
 * array`). A sentence that a shape gives itself goes before it.
 */
export function plainMessage(issue: z.core.$ZodRawIssue): string {
  switch (issue.code) {
    case 'invalid_type':
      return types[issue.expected] ?? 'another kind of value';
    case 'too_big':
      return `at most ${String(issue.maximum)}${unitText(issue.origin)}`;
    case 'too_small':
      return `at least ${String(issue.minimum)}${unitText(issue.origin)}`;
    case 'invalid_value':
      return issue.values.length > 1 ? `one of ${issue.values.map(String).join(', ')}` : String(issue.values[0]);
    case 'invalid_format':
      return issue.format === 'base64' ? 'a file in base64' : 'text of another form';
    case 'invalid_union':
      return 'text with its unit';
    default:
      return 'another value';
  }
}

const types: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'a JSON object',
  record: 'a JSON object',
};

const unitText = (origin: string): string =>
  origin === 'string' ? ' letters' : origin === 'array' || origin === 'set' ? ' of them' : '';
