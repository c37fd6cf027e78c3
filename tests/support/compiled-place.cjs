// The path of compiled output, by the source's content and the compiler's options: many workers share it.
const { createHash } = require('node:crypto');
const { mkdirSync, readFileSync } = require('node:fs');
const { join } = require('node:path');

const root = join(__dirname, '../..');
const folder = join(root, 'node_modules/.cache/boilbook-tests');
mkdirSync(folder, { recursive: true });
const compiler = readFileSync(join(root, 'apps/transpile.mjs'), 'utf8');

/** @param {string} file path of a source @param {string} text its content */
function compiledPlace(file, text) {
  return join(
    folder,
    createHash('sha256')
      .update(JSON.stringify([file, compiler, text]))
      .digest('hex'),
  );
}

module.exports = { compiledPlace };
