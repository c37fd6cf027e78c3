import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from '@jest/globals';
import type { JSX, VNode } from 'preact';
import { renderToString } from 'preact-render-to-string';
import { templatePath } from '#libs/package-root.js';
import type { PageContext } from '#pages/page-context.js';
import { DesktopTableView } from '#pages/parts/desktop-table.js';
import { Drawing } from '#pages/parts/drawing.js';
import { Field } from '#pages/parts/field.js';
import { History } from '#pages/parts/history.js';
import { LotRows } from '#pages/parts/lot-list.js';
import { ProblemPage } from '#pages/problems/problem.js';
import { DispatchListPage } from '#pages/dispatches/list.js';

const attack = `"><script>alert('x')</script>&amp;`;
const drawn = (component: JSX.Element): string => renderToString(component as VNode);

const page: PageContext = {
  principal: { kind: 'person', initials: attack, role: attack },
  may: () => true,
  mayWrite: () => true,
  house: { name: attack, prefix: attack },
  practice: true,
  isOtherHouse: true,
  wholeBook: true,
  choosesHouse: true,
  once: attack,
  origin: { book: attack, house: attack, person: attack, where: attack },
  isPrivateConnection: false,
  messages: [attack],
  undo: attack,
  insert: () => '',
};

test.each([
  [
    'a page and the layout around it',
    ProblemPage({ title: attack, sentences: [attack], status: 404, wasSent: true, page }),
  ],
  [
    'a list',
    DispatchListPage({
      title: attack,
      here: attack,
      desktop: {
        noun: attack,
        address: attack,
        q: attack,
        sort: attack,
        countText: attack,
        csv: attack,
        columns: [{ heading: attack, href: attack, look: attack, sorted: undefined }],
        rows: [{ href: attack, cells: [{ text: attack, look: 'state' }] }],
      },
      rows: [{ id: attack, lot: attack, jars: attack, kind: 'sale', to: attack, when: attack, planned: false }],
      more: { summary: attack, before: attack, next: attack, wholeListHref: attack },
      page,
    }),
  ],
  [
    'rows of lots, which are put into the page as they were drawn',
    LotRows({
      rows: [
        { code: attack, state: attack, year: 2026, day: attack, sentence: attack, amount: attack, diagram: undefined },
      ],
      none: attack,
    }),
  ],
  [
    'the table of a list, which is put into the page as it was drawn',
    DesktopTableView({
      desktop: {
        noun: attack,
        address: attack,
        q: attack,
        sort: attack,
        countText: attack,
        csv: attack,
        columns: [{ heading: attack, href: attack, look: attack, sorted: undefined }],
        rows: [{ href: attack, cells: [{ text: attack, look: 'state' }] }],
      },
    })!,
  ],
  ['the history', History({ history: [historyLine()], page })],
  ...(
    [
      'text',
      'long',
      'quantity',
      'moment',
      'choice',
      'suggested',
      'portions',
      'readings',
      'spans',
      'jars',
      'tick',
    ] as const
  ).map((control) => [`a field: ${control}`, Field(field(control))] as const),
])('typed text comes out escaped: %s', (_, component) => {
  const html = drawn(component);
  expect(html).toContain('&quot;>&lt;script>alert(');
  expect(html).toContain('&amp;amp;');
  expect(html).not.toMatch(/<script>|""></);
});

test('our own drawings are inserted unescaped, by one file only', () => {
  expect(drawn(Drawing({ svg: '<svg><path d="M0 0"/></svg>' }))).toBe('<svg><path d="M0 0"/></svg>');
  const raw = readdirSync(templatePath('pages'), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.tsx'))
    .filter((name) =>
      /dangerouslySetInnerHTML|jsxTemplate/.test(readFileSync(join(templatePath('pages'), name), 'utf8')),
    );
  expect(raw).toEqual([join('parts', 'drawing.tsx')]);
});

function historyLine() {
  return {
    entry: 7,
    clock: attack,
    day: attack,
    by: attack,
    enteredBy: attack,
    text: attack,
    late: attack,
    from: attack,
    why: attack,
    readings: [{ label: attack, typed: attack, now: attack }],
    changes: [{ label: attack, was: attack, now: attack }],
    correct: { href: attack, kind: 'pack' as const },
  };
}

function field(control: Parameters<typeof Field>[0]['control']) {
  const choice = { value: attack, text: attack, chosen: true };
  return {
    name: attack,
    control,
    label: attack,
    hint: attack,
    example: attack,
    needed: true,
    typed: attack,
    units: [choice, choice],
    choices: [choice],
    portions: [{ code: attack, text: attack, taken: true, amount: attack }],
    more: { lot: attack, amount: attack, empty: [attack] },
    readings: [{ n: 1, temp: attack, from: attack, to: attack, clock: attack, thermometer: attack }],
    spans: [{ n: 1, from: attack, to: attack }],
    codes: attack,
    readingsInSight: 1,
    remembered: [choice],
    several: true,
    tiles: { kinds: [choice], sizes: [choice] },
    fault: attack,
    ago: attack,
  };
}
