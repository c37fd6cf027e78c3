import { posted, type TestServer } from './server.js';

export const house = {
  name: 'Tamarack Hollow Sugarhouse',
  town: 'Harrow Notch, Vermont',
  place: 'Vermont',
  hydrometerMadeFor: '60-F',
};
export const owner = { initials: 'WE', person: 'Wren Ellery', password: 'steam over the long pan' };

/** The newcomer opens the page, reads the printed code, and sets the book up with it. */
export async function setUp(at: TestServer): Promise<void> {
  await at.web.inject('/set-up');
  const done = await posted(at, '/set-up', { ...house, ...owner, word: at.lines[0] ?? '' });
  if (done.statusCode !== 303) throw new Error(`the book was not set up: ${done.statusCode} ${done.body}`);
}
