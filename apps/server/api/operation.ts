import { SetMetadata } from '@nestjs/common';
import type { z } from 'zod';

/** A file as a response: its media type, and whether it is text. */
export interface FileAnswer {
  readonly media: string;
  readonly text: boolean;
}

/** What a method of /api does, accepts and returns, declared once beside it; `describeApi` reads it. */
export interface Operation {
  readonly summary: string;
  readonly description?: string;
  readonly query?: z.ZodObject;
  /** The description of a free-form query: a calculator takes the fields of its own question. */
  readonly freeQuery?: string;
  readonly body?: z.ZodType;
  readonly bodyExample?: unknown;
  /** The request body, where it is a file. */
  readonly takes?: FileAnswer;
  readonly answers: z.ZodType | FileAnswer | ((path: string) => z.ZodType | FileAnswer);
  /** It writes: 201 once committed, 200 where the book already holds it; both with the same content. */
  readonly writes?: boolean;
}

const operationKey = 'boilbook:operation';

/** Decorates a controller method with its part of the OpenAPI description. */
export const Describe = (operation: Operation): MethodDecorator => SetMetadata(operationKey, operation);

/** The description that `Describe` put on a method; undefined for a method that isn't in the OpenAPI description. */
export const operationOf = (method: object): Operation | undefined =>
  Reflect.getMetadata(operationKey, method) as Operation | undefined;

export const pdfAnswer: FileAnswer = { media: 'application/pdf', text: false };
