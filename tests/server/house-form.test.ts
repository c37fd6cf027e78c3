import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { houseFields } from '#libs/actions/kinds/house.js';
import { owner, setUp } from '../support/newcomer.js';
import { posted, signedIn, startServer, type TestServer } from '../support/server.js';

/** The form of the sugarhouse: common boxes in sight, the others in groups that open where they are needed. */
let server: TestServer;
let cookie = '';

beforeAll(async () => {
  server = await startServer();
  await setUp(server);
  cookie = await signedIn(server, 'WE', owner.password);
});
afterAll(() => server.close());

const form = async (query = ''): Promise<string> =>
  formIn((await server.web.inject({ url: `/house${query}`, headers: { cookie } })).body);
const formIn = (body: string): string => /<form method="post" action="\/house"[^]*?<\/form>/.exec(body)?.[0] ?? '';
const openGroups = (html: string): string[] =>
  [...html.matchAll(/<details class="more" open[^>]*><summary>([^<]*)/g)].flatMap(([, heading]) => heading ?? []);
const save = (fields: Record<string, string>) =>
  posted(
    server,
    '/house',
    {
      _once: `house-${JSON.stringify(fields)}`,
      name: 'Tamarack Hollow Sugarhouse',
      place: 'Vermont',
      hydrometerMadeFor: '60-F',
      ...fields,
    },
    { cookie },
  );

test('every field that a person fills in is on the form once, the common ones outside of any folded group', async () => {
  const html = await form();
  const inSight = html.replace(/<details[^]*?<\/details>/g, '');
  for (const name of Object.keys(houseFields).filter((each) => !['practice', 'by', 'at'].includes(each)))
    expect({ name, onForm: new RegExp(`name="${name}(?:~[a-z]+)?"`).test(html) }).toEqual({ name, onForm: true });
  for (const name of ['name', 'address', 'town', 'postcode', 'phone', 'place', 'zone', 'temperatures', 'volumes'])
    expect({ name, inSight: inSight.includes(`name="${name}"`) }).toEqual({ name, inSight: true });
  expect(inSight).not.toContain('name="authority2"');
  expect(html.match(/<details/g)).toHaveLength(6);
});

test('a filled group stays folded and counts its boxes; what is saved is kept when another box is changed', async () => {
  expect((await save({ authority: 'state food office', authorityPhone: '802 555 0199' })).statusCode).toBe(303);
  const html = await form();
  expect(openGroups(html)).toEqual([]);
  expect(html).toMatch(/The authority to call<span class="soft small"> 2 filled<\/span>/);
  expect(html).toMatch(/name="authorityPhone"[^>]*value="802 555 0199"/);
});

test('an invalid box opens its group and no other, and a link to a box opens the group of that box', async () => {
  const refused = await save({ checkEvery: 'often', authority: 'state food office' });
  expect(refused.statusCode).toBe(422);
  expect(openGroups(formIn(refused.body))).toEqual(['Checks while jars are filled, elevation']);
  expect(refused.body).toContain('href="#f-checkEvery"');
  expect(openGroups(await form('?box=publicUrl'))).toEqual(['Where label codes lead, prefix of lot codes']);
  expect(openGroups(await form('?box=nothing'))).toEqual([]);
});
