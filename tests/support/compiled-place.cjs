// Where what was compiled of a source is kept, by its content and by how it is compiled: many workers share it.
const { createHash } = require('node:crypto');
const { mkdirSync, readFileSync } = require('node:fs');
const { join } = require('node:path');

const root = join(__dirname, '../..');
const folder = join(root, 'node_modules/.cache/boilbook-tests');
mkdirSync(folder, { recursive: true });
const compiler = readFileSync(join(root, 'apps/transpile.mjs'), 'utf8');

/** @param {string} file path of a source @param {string} text what stands in it */
function compiledPlace(file, text) {
  return join(
    folder,
    createHash('sha256')
      .update(JSON.stringify([file, compiler, text]))
      .digest('hex'),
  );
}

module.exports = { compiledPlace };
