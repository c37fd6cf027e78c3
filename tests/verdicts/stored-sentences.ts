/** What each finding that a release may accept says, as books have stored it: by rule and way out of `remedies`. */
export const storedSentences: Readonly<Record<string, string>> = {
  'fill-perhaps-hot-enough, way out 1':
    '181 °F after correction (T1 showed 178 °F and reads 3 °F low there), the only reading, at 10:20, jar 24',
  'fill-perhaps-hot-enough, way out 2':
    '181 °F after correction (T1 showed 178 °F and reads 3 °F low there), the only reading, at 10:20, jar 24',
  'thermometer-unreliable, way out 1':
    '184 °F, the third of 3 readings, at 10:25, jar 24, by T1, found wrong by an unknown amount (check CK5, 2026-03-25); 185 °F, the second of 3 readings, at 10:15, jar 12, by T1, found wrong by an unknown amount (check CK5, 2026-03-25); 186 °F, the first of 3 readings, at 10:05, jar 1, by T1, found wrong by an unknown amount (check CK5, 2026-03-25)',
  'readings-too-far-apart, way out 1': 'one reading for jars 2–24',
  'more-sugar-than-came-in, way out 1':
    'boil 26077A: 4 gal of syrup from 120 gal of sap at 2.1 °Bx. Was sweet left from the last boil in the pans, or is one of the amounts wrong?',
  'more-sugar-than-came-in, way out 2':
    'boil 26077A: 4 gal of syrup from 120 gal of sap at 2.1 °Bx. Was sweet left from the last boil in the pans, or is one of the amounts wrong?',
  'mould-looked-at, way out 1':
    'mould or another sign of spoilage: complaint CO0001, mould, came sealed; 12 other jars looked at: 0 mouldy, 12 sound',
  'harm-reported, way out 1': 'complaint CO0001 says “shard”, “glass”: illness, something in the syrup or a chemical',
  'harm-reported, way out 2': 'complaint CO0001 says “shard”, “glass”: illness, something in the syrup or a chemical',
  'equipment-question, way out 1':
    'boil 26077A began after cleaning CL0001 of tank, which was not rinsed: did sap or syrup touch it before it was rinsed?',
  'lead-over-limit, way out 1': 'lead test LT0001 of 26077A-1 read 900 ppb',
  'lead-over-limit, way out 2': 'lead test LT0001 of 26077A-1 read 900 ppb',
  'lead-over-limit, way out 3': 'lead test LT0001 of 26077A-1 read 900 ppb',
  'outside-these-rules, way out 1':
    'product: cream. Maple cream is stirred as it cools and filled cool: it keeps by how little water is free in it, which this book doesn’t measure.',
  'outside-these-rules, way out 2':
    'product: cream. Maple cream is stirred as it cools and filled cool: it keeps by how little water is free in it, which this book doesn’t measure.',
};
