import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { addKey } from '#libs/actions/accounts/accounts.js';
import { kindByName } from '#libs/actions/kinds/registry.js';
import { record } from '#libs/actions/record/record.js';
import type { Described } from '../support/api-description.js';
import { eachKind } from '../support/each-kind.js';
import { startServer, type TestServer } from '../support/server.js';
import { done, recordOrThrow, startSeason, writeContext } from '../support/sugarhouse.js';

let at: TestServer;
let key = '';
let described: Described;
const ids = new Map<string, string>();
beforeAll(async () => {
  at = await startServer();
  at.clock.now = writeContext().now;
  await startSeason(at.book);
  await recordOrThrow(at.book, 'gathering', { id: 'G800', volume: '20 gal' });
  await recordOrThrow(at.book, 'dispatch', { id: 'S800', jars: '1', alreadyLeft: 'yes' });
  for (const kind of kindByName.values()) {
    if (kind.kind === 'house') {
      ids.set(kind.plural, 'house');
      continue;
    }
    const { sent } = eachKind[kind.kind];
    const own = kind.kind === 'lead-test' ? { ...sent, equipment: 'PAN1' } : sent;
    const made = await record(at.book, writeContext(), kind, own);
    ids.set(kind.plural, done(made).id);
  }
  const made = await addKey(at.book, 'home', { name: 'a script', role: 'owner' }, at.clock.now);
  if ('key' in made) ({ key } = made);
  described = (await at.web.inject('/api/openapi.json')).json<Described>();
});
afterAll(() => at.close());

const bodies = () =>
  Object.entries(described.paths).flatMap(([path, methods]) =>
    Object.entries(methods).flatMap(([method, operation]) => {
      const content = (operation as { requestBody?: { content: Record<string, { example?: object }> } }).requestBody
        ?.content['application/json'];
      return content ? [{ path, method, example: content.example }] : [];
    }),
  );

test('each operation with a JSON body has an example', () => {
  expect(bodies().length).toBeGreaterThan(60);
  expect(bodies().filter(({ example }) => example === undefined)).toEqual([]);
});

test('the example of what is added to a record is taken', async () => {
  const answers: unknown[] = [];
  for (const { path, example } of bodies().filter((each) => each.path.endsWith('/additions'))) {
    const plural = path.split('/')[2] ?? '';
    const answer = await at.web.inject({
      method: 'POST',
      url: path.replace('{id}', encodeURIComponent(ids.get(plural) ?? '')),
      payload: example ?? {},
      headers: { authorization: `Bearer ${key}` },
    });
    if (![200, 201].includes(answer.statusCode)) answers.push([path, example, answer.statusCode, answer.body]);
  }
  expect(answers).toEqual([]);
});
