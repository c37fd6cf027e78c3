import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { expect, test } from '@jest/globals';
import ts from 'typescript';
import { packageRoot } from '#libs/package-root.js';

/**
 * What each folder may use of ours; DEVELOPERS.md has the same table. All but syrup, records and format may import the
 * package's root.
 */
const root = 'libs/package-root.js';
const mayUse: Readonly<Record<string, readonly string[]>> = {
  'libs/syrup': [],
  'libs/records': ['libs/syrup'],
  'libs/format': ['libs/syrup', 'libs/records'],
  'libs/package-root.ts': [],
  'libs/store': ['libs/syrup', 'libs/records'],
  'libs/pdf': ['libs/format', root],
  'libs/labels': ['libs/syrup', 'libs/records', 'libs/format', 'libs/pdf', root],
  'libs/reports': ['libs/syrup', 'libs/records', 'libs/format', 'libs/pdf', root],
  'libs/actions': [
    'libs/syrup',
    'libs/records',
    'libs/format',
    'libs/store',
    'libs/pdf',
    'libs/labels',
    'libs/reports',
    root,
  ],
  'templates/pages': ['libs/syrup', 'libs/records', 'libs/format'],
  'apps/server': [
    'templates/pages',
    'libs/syrup',
    'libs/records',
    'libs/format',
    'libs/store',
    'libs/pdf',
    'libs/labels',
    'libs/reports',
    'libs/actions',
    root,
  ],
  'apps/cli': [
    'libs/syrup',
    'libs/records',
    'libs/format',
    'libs/store',
    'libs/pdf',
    'libs/labels',
    'libs/reports',
    'libs/actions',
    root,
  ],
};

/** Each npm package belongs to one folder; zod is used wherever input is parsed. */
const owners: Readonly<Record<string, readonly string[]>> = {
  typeorm: ['libs/store'],
  sqlite3: ['libs/store'],
  'reflect-metadata': ['libs/store', 'apps/server'],
  'async-mutex': ['libs/store'],
  canonicalize: ['libs/store'],
  'temporal-polyfill': ['libs/actions'],
  'csv-parse': ['libs/actions'],
  '@node-rs/argon2': ['libs/actions'],
  qrcode: ['libs/labels', 'apps/server'],
  pdfkit: ['libs/pdf'],
  fontkit: ['libs/labels'],
  'csv-stringify': ['libs/reports'],
  'svg-to-pdfkit': ['libs/pdf'],
  preact: ['templates/pages', 'apps/server'],
  'preact-render-to-string': ['apps/server'],
  rxjs: ['apps/server'],
  fastify: ['apps/server'],
  '@nestjs/common': ['apps/server'],
  '@nestjs/core': ['apps/server'],
  '@nestjs/platform-fastify': ['apps/server'],
  '@fastify/cookie': ['apps/server'],
  '@fastify/multipart': ['apps/server'],
  '@fastify/static': ['apps/server'],
  '@peculiar/x509': ['apps/server'],
  sharp: ['libs/actions'],
  zod: ['libs/actions', 'libs/labels', 'libs/reports', 'apps/server', 'apps/cli'],
};

interface Import {
  readonly file: string;
  readonly room: string;
  readonly of: string;
}

test('every import between folders is in the table', () => {
  const wrong = imports().flatMap(({ file, room, of }) => {
    const target = roomOf(of, file);
    if (target === undefined || target === room) return [];
    return mayUse[room]?.includes(target) ? [] : [`${file} imports ${of}`];
  });
  expect(wrong).toEqual([]);
});

test('every npm package is used by its owners only, and syrup uses none', () => {
  const wrong = imports().flatMap(({ file, room, of }) => {
    if (of.startsWith('.') || of.startsWith('#')) return [];
    if (of.startsWith('node:')) return room === 'libs/syrup' ? [`${file} imports ${of}`] : [];
    const name = of
      .split('/')
      .slice(0, of.startsWith('@') ? 2 : 1)
      .join('/');
    return owners[name]?.includes(room) ? [] : [`${file} imports ${of}`];
  });
  expect(wrong).toEqual([]);
});

test('no screen of the server is part of a circle of imports', () => {
  const leads = new Map<string, Set<string>>();
  for (const { file, of } of imports()) {
    const from = screenOf(file);
    const to = of.startsWith('.') ? screenOf(join(file, '..', of).split(sep).join('/')) : undefined;
    if (from === undefined || to === undefined || from === to) continue;
    leads.set(from, (leads.get(from) ?? new Set()).add(to));
  }
  // Enough files are read for the result to mean something.
  expect(leads.size).toBeGreaterThan(5);
  const reached = (from: string): Set<string> => {
    const seen = new Set<string>();
    const walk = (screen: string): void =>
      leads.get(screen)?.forEach((next) => {
        if (!seen.has(next)) walk((seen.add(next), next));
      });
    walk(from);
    return seen;
  };
  expect([...leads.keys()].filter((screen) => reached(screen).has(screen))).toEqual([]);
});

test('syrup uses neither clock nor random numbers, and only the store contains SQL', () => {
  const wrong = sources().flatMap(({ file, room, text }) => [
    ...(room === 'libs/syrup' && /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bprocess\./.test(text)
      ? [`${file} asks a clock or chance`]
      : []),
    ...(room !== 'libs/store' && /`\s*(?:SELECT|INSERT INTO|UPDATE|DELETE FROM|WITH RECURSIVE)\s/.test(text)
      ? [`${file} holds SQL`]
      : []),
  ]);
  expect(wrong).toEqual([]);
});

/** `apps/server/screens/lots/lots-controller.ts` belongs to the screen `lots`; a file beside the folders to none. */
const screenOf = (file: string): string | undefined => /^apps\/server\/screens\/([^/]+)\//.exec(file)?.[1];

let read: Import[] | undefined;
function imports(): Import[] {
  return (read ??= sources().flatMap(({ file, room, text }) => {
    const found: Import[] = [];
    const visit = (node: ts.Node): void => {
      const named =
        ts.isImportDeclaration(node) || ts.isExportDeclaration(node)
          ? node.moduleSpecifier
          : ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword
            ? node.arguments[0]
            : ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)
              ? node.argument.literal
              : undefined;
      if (named && ts.isStringLiteralLike(named)) found.push({ file, room, of: named.text });
      ts.forEachChild(node, visit);
    };
    visit(ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true));
    return found;
  }));
}

function sources(): { file: string; room: string; text: string }[] {
  return ['apps', 'libs', 'templates'].flatMap((top) =>
    readdirSync(join(packageRoot, top), { recursive: true, withFileTypes: true })
      .filter((each) => each.isFile() && /\.tsx?$/.test(each.name))
      .map((each) => {
        const path = join(each.parentPath, each.name);
        const file = relative(packageRoot, path).split(sep).join('/');
        return { file, room: file.split('/').slice(0, 2).join('/'), text: readFileSync(path, 'utf8') };
      }),
  );
}

function roomOf(of: string, file: string): string | undefined {
  if (of.startsWith('#libs/')) return `libs/${of.split('/')[1] ?? ''}`;
  if (of.startsWith('#pages/')) return 'templates/pages';
  if (!of.startsWith('.')) return undefined;
  return join(file, '..', of).split(sep).slice(0, 2).join('/');
}
