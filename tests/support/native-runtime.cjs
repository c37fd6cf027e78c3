// Runs test files by Node's own module loader instead of inside Jest's virtual contexts: a worker loads the program
// once and not once per file (four seconds each), and loops over pixels run at full speed. Jest still finds the files,
// distributes them among workers, runs hooks and timeouts and reports. What is lost, no test here uses: mocked modules,
// and a fresh global object per file.
const asyncHooks = require('node:async_hooks');
const { register, registerHooks } = require('node:module');
const { readFileSync } = require('node:fs');
const { fileURLToPath, pathToFileURL } = require('node:url');
const { default: JestRuntime } = require('jest-runtime');
const { compiledPlace } = require('./compiled-place.cjs');

// Where Node supports it, in this thread and synchronously; the older API is being removed.
if (registerHooks) registerHooks(require('./load-typescript.mjs'));
else register('./load-typescript.mjs', pathToFileURL(__filename));

// A worker with nothing left to do ends at once. Left to itself, Node first frees the whole heap, which together with
// the rest took longer than Jest's half second, after which it ends a worker by force and warns of handles left open.
if (process.send) process.once('beforeExit', () => process.exit());

/** Where `jest-globals.mjs` finds `test`, `expect` and the rest for the file that runs now. */
const current = Symbol.for('boilbook tests: globals of the file that runs');
/** Where jest-circus stores a file's listeners; they would accumulate from file to file. */
const listeners = Symbol.for('EVENT_HANDLERS');

class NativeRuntime extends JestRuntime {
  /** Jest requests its own test functions this way; a fresh copy has fresh state. */
  requireInternalModule(path) {
    delete globalThis[listeners];
    delete require.cache[path];
    return withPlainStores(() => require(path));
  }

  setGlobalsForRuntime(globals) {
    globalThis[current] = globals;
  }

  /** Jest uses these to map compiled lines to source lines. */
  getSourceMaps() {
    return new KeptMaps();
  }

  unstable_shouldLoadAsEsm() {
    return true;
  }

  unstable_importModule(path) {
    return import(pathToFileURL(path).href);
  }
}

/**
 * Jest stores the running test in an AsyncLocalStorage. Once one is used, Node 20 calls a hook for every promise of the
 * process. No two tests of a file run at the same time here, so a variable does the same.
 */
function withPlainStores(load) {
  const { AsyncLocalStorage } = asyncHooks;
  asyncHooks.AsyncLocalStorage = PlainStore;
  try {
    return load();
  } finally {
    asyncHooks.AsyncLocalStorage = AsyncLocalStorage;
  }
}

class PlainStore {
  #store;

  getStore() {
    return this.#store;
  }

  run(store, callback, ...values) {
    const before = this.#store;
    this.#store = store;
    const back = () => void (this.#store = before);
    let answer;
    try {
      answer = callback(...values);
    } catch (fault) {
      back();
      throw fault;
    }
    if (typeof answer?.then === 'function') answer.then(back, back);
    else back();
    return answer;
  }
}

/** Looked up when a stack trace needs it: a map is stored beside the compiled file. */
class KeptMaps extends Map {
  get(source) {
    const file = source.startsWith('file:') ? fileURLToPath(source) : source;
    return /\.tsx?$/.test(file) ? `${compiledPlace(file, readFileSync(file, 'utf8'))}.map` : undefined;
  }
}

module.exports = { default: NativeRuntime, __esModule: true };
