// Replaces `@jest/globals`, which works only inside Jest's virtual contexts. Each name calls the function of the file
// that runs now: support files are loaded once for many test files.
const current = () => globalThis[Symbol.for('boilbook tests: globals of the file that runs')];

const forwarded = (name) =>
  new Proxy(function () {}, {
    apply: (_target, _self, args) => current()[name](...args),
    get: (_target, key) => current()[name][key],
  });

export const expect = forwarded('expect');
export const test = forwarded('test');
export const describe = forwarded('describe');
export const beforeAll = forwarded('beforeAll');
export const beforeEach = forwarded('beforeEach');
export const afterAll = forwarded('afterAll');
export const afterEach = forwarded('afterEach');
