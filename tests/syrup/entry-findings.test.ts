import { expect, test } from '@jest/globals';
import { drawnMoreThanThere, heldUpstream, sentMoreThanMade, sentWhileHeld } from '#libs/syrup/rules/entry-findings.js';

test('jars that left while their lot was held are accepted with a finding that says so', () => {
  expect(
    sentWhileHeld({ lot: '26077A-1', jars: 12, to: 'Millrace Green', status: 'held', why: '179 °F' }),
  ).toMatchObject({
    rule: 'sent-while-held',
    stop: false,
    found: '12 jars went to Millrace Green while 26077A-1 was held: 179 °F',
  });
  expect(sentWhileHeld({ lot: '26077A-1', jars: 1, to: 'a neighbour', status: 'recalled' }).found).toBe(
    '1 jar went to a neighbour while 26077A-1 was recalled',
  );
});

test('more jars sent than were made is a finding, as many as were made is not', () => {
  expect(sentMoreThanMade({ lot: '26077A-1', made: 64, sentInAll: 64 })).toEqual([]);
  expect(sentMoreThanMade({ lot: '26077A-1', made: 64, sentInAll: 66 })).toMatchObject([
    {
      rule: 'sent-more-than-made',
      stop: false,
      found: '66 jars of 26077A-1 sent out, destroyed or used otherwise, 2 more than were made',
    },
  ]);
});

test('a lot drawn from a held lot is held', () => {
  expect(heldUpstream({ upstream: '26077A', status: 'held' })).toMatchObject({
    rule: 'held-upstream',
    stop: true,
    found: '26077A, which it was drawn from, was held',
  });
});

test('a drop more than there was is a finding, a rounding error is not', () => {
  const drawn = (drawnMl: number) => drawnMoreThanThere({ lot: '26077A', thereMl: 4000, drawnMl, litres: true });
  expect(drawn(4000.4)).toEqual([]);
  expect(drawn(4002)).toMatchObject([
    { rule: 'drawn-more-than-there', stop: false, found: '4 L drawn from 26077A, 0.002 L more than was there' },
  ]);
});
