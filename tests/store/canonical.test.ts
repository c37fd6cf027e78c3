import { describe, expect, test } from '@jest/globals';
import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { canonicalJson } from '#libs/store/log/canonical.js';

describe('Canonical JSON', () => {
  // RFC 8785, the sample of section 3.2.2 and 3.2.4.
  test('writes the standard’s sample as the standard does', () => {
    const sample = JSON.parse(
      String.raw`{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`,
    ) as unknown;
    expect(canonicalJson(sample)).toBe(
      String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
    );
  });

  // RFC 8785 section 3.2.3: by UTF-16 code units, so the emoji comes before the Hebrew letter.
  test('orders names as the standard does', () => {
    const names = {
      '\u20ac': 'Euro Sign',
      '\r': 'Carriage Return',
      '\ufb33': 'Hebrew Letter Dalet With Dagesh',
      '1': 'One',
      '\ud83d\ude00': 'Emoji: Grinning Face',
      '\u0080': 'Control',
      '\u00f6': 'Latin Small Letter O With Diaeresis',
    };
    expect(
      Object.values(JSON.parse(canonicalJson({ names })) as Record<string, Record<string, string>>).flatMap((each) =>
        Object.values(each),
      ),
    ).toEqual([
      // JSON.parse puts the name that is a number first; the text itself is checked below.
      'One',
      'Carriage Return',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ]);
    expect(canonicalJson(names)).toMatch(/^\{"\\r":"Carriage Return","1":"One",/);
  });

  // RFC 8785 appendix B: IEEE 754 bits and their text (from memory of the table).
  test.each([
    ['0000000000000000', '0'],
    ['8000000000000000', '0'],
    ['0000000000000001', '5e-324'],
    ['8000000000000001', '-5e-324'],
    ['7fefffffffffffff', '1.7976931348623157e+308'],
    ['4340000000000000', '9007199254740992'],
    ['c340000000000000', '-9007199254740992'],
    ['4430000000000000', '295147905179352830000'],
    ['44b52d02c7e14af5', '9.999999999999997e+22'],
    ['44b52d02c7e14af6', '1e+23'],
    ['44b52d02c7e14af7', '1.0000000000000001e+23'],
    ['444b1ae4d6e2ef4e', '999999999999999700000'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['41b3de4355555553', '333333333.3333332'],
    ['41b3de4355555555', '333333333.3333333'],
    ['becbf647612f3696', '-0.0000033333333333333333'],
  ])('writes the number with the bits %s as %s', (bits, written) => {
    expect(canonicalJson(Buffer.from(bits, 'hex').readDoubleBE(0))).toBe(written);
  });

  test('refuses what JSON cannot hold', () => {
    for (const value of [NaN, Infinity, -Infinity, undefined, () => 1]) expect(() => canonicalJson(value)).toThrow();
    expect(() => canonicalJson({ deep: [NaN] })).toThrow();
  });

  test('of any value parses back to that value, and is the same in whatever order its names were', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalJson(value);
        expect(canonicalJson(JSON.parse(text))).toBe(text);
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)));
        expect(canonicalJson(reversed(value))).toBe(text);
      }),
    );
  });

  // The package decides: what it writes was hashed in every book, and what it refuses must be refused.
  test('is byte for byte what the package canonicalize writes, or refused as there', () => {
    const name = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.string({ unit: fc.constantFrom('a', 'Z', '_', '1', 'é', '\u{1f600}', '\ud800', '"') }),
      fc.constantFrom('__proto__', 'toJSON', 'constructor', '10', '9', 'at', 'By', ''),
    );
    const single = fc.oneof(
      name,
      fc.double(),
      fc.integer(),
      fc.boolean(),
      fc.date({ noInvalidDate: true }),
      fc.constantFrom(null, undefined, -0, 1e21, 1e-7, 5e-324, NaN, -Infinity, Symbol('x'), 12n, new String('x')),
    );
    const values = fc.letrec<{ value: unknown }>((tie) => ({
      value: fc.oneof(
        { depthSize: 'medium', withCrossShrink: true },
        single,
        fc.array(tie('value')),
        fc.dictionary(name, tie('value')),
      ),
    })).value;
    const writtenBy = (write: (value: unknown) => string | undefined, value: unknown): string => {
      try {
        return write(value) ?? 'refused';
      } catch {
        return 'refused';
      }
    };
    fc.assert(
      fc.property(values, (value) => {
        expect(writtenBy(canonicalJson, value)).toBe(writtenBy(canonicalize, value));
      }),
      { numRuns: 2000 },
    );
    const deep = JSON.parse(`${'{"b":[0,'.repeat(80)}null${'],"a":1}'.repeat(80)}`) as unknown;
    expect(canonicalJson(deep)).toBe(canonicalize(deep));
    const circle: Record<string, unknown> = { at: 1 };
    circle['itself'] = circle;
    expect(() => canonicalJson(circle)).toThrow('Circular');
  });
});

function reversed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reversed);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([name, each]) => [name, reversed(each)]),
  );
}
