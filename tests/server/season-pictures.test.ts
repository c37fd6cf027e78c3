import { afterAll, beforeAll, expect, test } from '@jest/globals';
import { writeEvening } from '../support/evening-scenario.js';
import { startServer, posted, type TestServer } from '../support/server.js';

let server: TestServer;
let html = '';
beforeAll(async () => {
  server = await startServer();
  server.server.setupCode.current(server.clock.now);
  const set = await posted(server, '/set-up', {
    word: server.lines.at(-1) ?? '',
    name: 'Tamarack Hollow Sugarhouse',
    place: 'Vermont',
    hydrometerMadeFor: '60-F',
    initials: 'WE',
    person: 'Wren Ellery',
    password: 'steam over the roof at night',
  });
  const cookie = set.cookies.map((each) => `${each.name}=${each.value}`).join('; ');
  await writeEvening(server);
  html = (await server.web.inject({ url: '/season/2026/pictures', headers: { cookie } })).body;
});
afterAll(async () => {
  await server.close();
});

test('each chart of the season is above the figures that it was drawn from', () => {
  const parts = html.split('<h2>').slice(1);
  expect(parts).toHaveLength(7);
  // The practice season has no log of a pan: that chart says so, and has no figures below it.
  const drawn = parts.filter((part) => !part.includes('No boil has three pan temperatures recorded.'));
  expect(drawn).toHaveLength(6);
  for (const part of drawn) expect(part).toMatch(/<figure[^]*<svg[^]*<\/figure>\s*<details[^]*<table/);
  expect(parts[0]).toContain('188 F at 10:10, 186 F at 10:25');
  expect(parts[0]).toContain('<td class="against">TOO COLD: 1 of 2</td>');
  expect(parts[1]).toContain('61 Bx at 185 F');
  expect(parts[3]).toContain('120 gal');
  expect(parts[6]).toMatch(/Millrace Green market<\/th><td class="n">6</);
  // A chart takes its colours from the page, so that it is not a white sheet at night.
  expect(html).not.toContain('#1d1a16');
});
