// pdf.js, loaded once in a worker. Its build for Node replaces `JSON.parse`, `JSON.stringify`, `Array.prototype.push` and
// `Function.prototype.toString` with slower ones of its own, for the whole process and so for the program that is
// tested. Node's are put back; what pdf.js adds to Node 20 it needs.
const owners: readonly (readonly [object, string])[] = [
  [JSON, 'parse'],
  [JSON, 'stringify'],
  [Array.prototype, 'push'],
  [Function.prototype, 'toString'],
];
const ofNode = owners.map(([owner, name]) => Object.getOwnPropertyDescriptor(owner, name)!);

export const { getDocument, OPS } = await import('pdfjs-dist/legacy/build/pdf.mjs');
// Else pdf.js loads it at the first document, and replaces them again. It has no types.
const worker: string = 'pdfjs-dist/legacy/build/pdf.worker.mjs';
await import(worker);

owners.forEach(([owner, name], at) => Object.defineProperty(owner, name, ofNode[at]!));
