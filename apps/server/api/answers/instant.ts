import { z } from 'zod';

/** When something happened: ISO 8601 with its offset; some in old books are to the minute. */
export const instant = z.string().meta({ examples: ['2026-03-19T10:00-04:00'] });
