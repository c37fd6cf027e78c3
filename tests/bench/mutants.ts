import { readFileSync } from 'node:fs';
import ts from 'typescript';

/** One change at one place in a file, with the whole text of the mutated file. */
export interface Mutant {
  readonly file: string;
  readonly line: number;
  /** The original text, and its replacement. */
  readonly change: string;
  /** The changed line, without the space around it. */
  readonly becomes: string;
  readonly text: string;
}

const kind = ts.SyntaxKind;
/** Each operator's opposite first; comparisons also gain or lose equality. */
const operators = new Map<ts.SyntaxKind, readonly string[]>([
  [kind.LessThanToken, ['>=', '<=']],
  [kind.LessThanEqualsToken, ['>', '<']],
  [kind.GreaterThanToken, ['<=', '>=']],
  [kind.GreaterThanEqualsToken, ['<', '>']],
  [kind.EqualsEqualsEqualsToken, ['!==']],
  [kind.ExclamationEqualsEqualsToken, ['===']],
  [kind.AmpersandAmpersandToken, ['||']],
  [kind.BarBarToken, ['&&']],
]);

/** Every mutant of a file: comparisons, boolean operators, negations, booleans and numbers, one at a time. */
export function mutantsOf(file: string): Mutant[] {
  const text = readFileSync(file, 'utf8');
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const mutants: Mutant[] = [];
  const replace = (node: ts.Node, by: string): void => {
    const [from, to] = [node.getStart(), node.getEnd()];
    const { line } = source.getLineAndCharacterOfPosition(from);
    const changed = text.slice(0, from) + by + text.slice(to);
    mutants.push({
      file,
      line: line + 1,
      becomes: changed.split('\n')[line]?.trim() ?? '',
      change: `${text.slice(from, to)} → ${by}`,
      text: changed,
    });
  };
  const visit = (node: ts.Node): void => {
    if (ts.isTypeNode(node) || ts.isInterfaceDeclaration(node) || ts.isImportDeclaration(node)) return;
    if (ts.isBinaryExpression(node))
      for (const by of operators.get(node.operatorToken.kind) ?? []) replace(node.operatorToken, by);
    else if (ts.isPrefixUnaryExpression(node) && node.operator === kind.ExclamationToken)
      replace(node, node.operand.getText());
    else if (node.kind === kind.TrueKeyword) replace(node, 'false');
    else if (node.kind === kind.FalseKeyword) replace(node, 'true');
    else if (ts.isNumericLiteral(node)) replace(node, `(${node.text} + 1)`);
    ts.forEachChild(node, visit);
  };
  visit(source);
  return mutants;
}
