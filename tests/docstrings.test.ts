import { expect, test } from '@jest/globals';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { packageRoot } from '#libs/package-root.js';
import ts from 'typescript';

/** Exported functions of a file without a docstring, in the order of the file. */
function undocumented(file: string): string[] {
  const source = ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.Latest, true);
  return source.statements.flatMap((statement) => {
    if (!ts.canHaveModifiers(statement) || ts.getJSDocCommentsAndTags(statement).length > 0) return [];
    if (!ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword)) return [];
    if (ts.isFunctionDeclaration(statement)) return statement.name?.text ?? 'default';
    if (!ts.isVariableStatement(statement)) return [];
    return statement.declarationList.declarations
      .filter(
        ({ initializer }) => initializer && (ts.isArrowFunction(initializer) || ts.isFunctionExpression(initializer)),
      )
      .map(({ name }) => name.getText());
  });
}

const sourceFiles = (folder: string): string[] =>
  readdirSync(join(packageRoot, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => join(folder, name));

test('every function exported in apps, libs or pages has a docstring', () => {
  const files = ['apps', 'libs', 'templates/pages'].flatMap(sourceFiles);
  expect(files.length).toBeGreaterThan(500);
  const missing = files.flatMap((file) => undocumented(join(packageRoot, file)).map((name) => `${file} ${name}`));
  expect(missing).toEqual([]);
});
