import { add, complaint, correct, pack, type VerdictCase } from './verdict-case.js';

/** What complaints and notes say, judged the same whichever way they came in: run by the API on SQLite only. */
export const textCases: readonly VerdictCase[] = [
  ...[
    'Nobody noticed the glass in the jar until she bit it',
    'no one else got sick',
    'no glass in it until the last spoon',
    'not without glass in it',
    'I hope it is not a piece of glass',
  ].map((said): VerdictCase => ({
    is: `the complaint “${said}” raises the question`,
    after: [complaint(said, { mould: 'no' })],
    state: 'held',
    rule: 'harm-question',
  })),
  ...['No glass in it, and nobody got sick', 'without any glass or metal', 'we didn’t get sick', 'personne malade'].map(
    (said): VerdictCase => ({
      is: `the complaint “${said}” raises none`,
      after: [complaint(said, { mould: 'no' })],
      state: 'open',
    }),
  ),
  ...[
    'the funnel cracked early on and then later one jar burst while we filled',
    'not sure which jar broke, carried on',
    'no jar cracked, one burst at the end',
  ].map((note): VerdictCase => ({
    is: `the note “${note}” raises the question of glass`,
    pack: { note },
    state: 'held',
    rule: 'harm-question',
  })),
  ...['none of the jars broke', 'no glass broken', 'the weather broke at noon'].map((note): VerdictCase => ({
    is: `the note “${note}” raises none`,
    pack: { note },
    state: 'open',
  })),
  ...['smells off', 'cloudy, slimy, sour smell', 'Cloudy', 'trouble', 'clear but smells of vinegar'].map(
    (condition): VerdictCase => ({
      is: `sap recorded as “${condition}” holds its boil`,
      gathering: { condition },
      lot: '26077A',
      state: 'held',
      rule: 'sap-question',
    }),
  ),
  {
    is: 'sap that smells off holds the pack of its boil',
    gathering: { condition: 'smells off' },
    state: 'held',
    rule: 'held-upstream',
    says: /Condition of the sap/,
  },
  {
    is: 'sap whose record is corrected later holds the boil and its pack',
    after: [correct('gathering', 'G001', { condition: 'smells off' })],
    state: 'held',
    rule: 'held-upstream',
  },
  ...['clear, cold', 'yellow', 'not cloudy', 'smells sweet', 'no off smell'].map((condition): VerdictCase => ({
    is: `sap recorded as “${condition}” holds nothing`,
    gathering: { condition },
    state: 'open',
  })),
  {
    is: 'a note of vanilla beans in the kettle means that it is not pure maple syrup',
    pack: { note: 'added two vanilla beans to the kettle' },
    state: 'held',
    rule: 'outside-these-rules',
  },
  {
    is: 'naming the product maple syrup doesn’t take out what the note says was added',
    pack: { note: 'added two vanilla beans' },
    after: [add('packs', pack, { product: 'maple syrup' })],
    state: 'held',
    rule: 'outside-these-rules',
  },
  {
    is: 'a product recorded as maple syrup beside such a note is held from the start',
    pack: { note: 'added two vanilla beans', product: 'maple syrup' },
    state: 'held',
    rule: 'outside-these-rules',
    says: /correct the note/,
  },
  {
    is: 'correcting such a note waits for a maker’s release',
    pack: { note: 'a customer asked for added vanilla' },
    after: [correct('pack', pack, { note: 'a customer asked for another sort' })],
    state: 'held',
  },
  {
    is: 'a note that it tastes of vanilla names no ingredient',
    pack: { note: 'smells of vanilla, no sugar added' },
    state: 'open',
  },
];
