import { expect, test } from '@jest/globals';
import { keypadServer } from '../support/keypad-server.js';

const pad = keypadServer();
const { fill, fills } = pad;

/** The sentence at a box; undefined where the box is not marked. */
const faultAt = (body: string, box: string): string | undefined => {
  const isMarked = new RegExp(`<input[^>]*id="f-${box}"[^>]*aria-invalid="true"`).test(body);
  return isMarked ? new RegExp(`id="f-${box}-fault">([^<]*)<`).exec(body)?.[1]?.replaceAll('&quot;', '"') : undefined;
};

test('a wrong thermometer id is marked at the thermometer box, and the temperature at its own', async () => {
  const { body, statusCode } = await fill('warm', { thermometer: 'T 1' });
  expect(statusCode).toBe(422);
  expect(faultAt(body, 'thermometer')).toBe('Enter the id on the thermometer like T1, without spaces (typed: "T 1")');
  expect(faultAt(body, 'temperature')).toMatch(/^Enter a temperature like 186 F/);
  expect(faultAt(body, 'jars')).toBeUndefined();
  expect(body).toContain('<a href="#f-thermometer">Thermometer: enter the id');
  expect(body).toMatch(/name="thermometer"[^>]*value="T 1"|value="T 1"[^>]*name="thermometer"/);
  expect(await fills()).toEqual([]);
});

test('the thermometers of the house can be picked, none is preselected, and a choice stays', async () => {
  const page = (await pad.server.web.inject({ url: `/lots/${pad.pack}`, headers: { cookie: pad.cookie } })).body;
  expect(page).toMatch(/name="thermometer~pick" value="T1"\/>/);
  expect(page).toMatch(/name="thermometer~pick" value checked/);
  const refused = await fill('warm', { 'thermometer~pick': 'T1' });
  expect(refused.body).toMatch(/name="thermometer~pick" value="T1" checked/);
});

test.each([
  ['thermometer', 'T1;200 F'],
  ['thermometer', 'T1 jars 1-48'],
  ['thermometer', 'T1#T2'],
  ['jars', 'jar 3;200 F'],
  ['jars', 'jar 3|200 F jar 4'],
  ['jars', 'jar 3 poured back'],
  ['jars', 'the blue ones'],
])('the %s box with %p adds no second reading and changes no other', async (box, typed) => {
  const { body, statusCode } = await fill('178', { [box]: typed });
  expect(statusCode).toBe(422);
  expect(faultAt(body, box)).toContain(`(typed: "${typed}")`);
  expect(await fills()).toEqual([]);
});

test('the boxes of one reading become one reading in the record, each part parsed separately', async () => {
  expect((await fill('188', { thermometer: '', 'thermometer~pick': 'T1', jars: '9-16', ago: '5' })).statusCode).toBe(
    303,
  );
  expect(await fills()).toMatchObject([
    {
      typed: '188 F@11:55#T1 jars 9-16',
      temperature: { degrees: 188, unit: 'F', typed: '188 F' },
      clock: '11:55',
      thermometer: 'T1',
      jars: 'jars 9-16',
    },
  ]);
});

test('the history shows a reading and its source lots in plain words', async () => {
  await fill('187', { thermometer: 'T1' });
  const page = (await pad.server.web.inject({ url: `/lots/${pad.pack}`, headers: { cookie: pad.cookie } })).body;
  expect(page).toContain('188 °F at 11:55, thermometer T1, jars 9-16');
  expect(page).toContain('<ins>187 °F at 12:00, thermometer T1</ins>');
  expect(page).toMatch(/0\.5 gal of \w+/);
  const history = page.slice(page.indexOf('class="entry-list"'));
  expect(history.replace(/<input[^>]*>/g, '')).not.toMatch(/\d F@|#T1|:0\.5 gal/);
  const record = (await pad.server.web.inject({ url: `/records/pack/${pad.pack}`, headers: { cookie: pad.cookie } }))
    .body;
  expect(record).toContain('188 °F at 11:55, thermometer T1, jars 9-16 · 187 °F at 12:00, thermometer T1');
});
