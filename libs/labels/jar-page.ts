import { readFileSync } from 'node:fs';
import { templatePath } from '#libs/records/package-root.js';
import { printedJarCode } from '#libs/syrup/jar-codes.js';
import type { LabelContent } from './label.js';
import { packedWords } from './label-words.js';
import { netQuantity } from './net-quantity.js';

/** What a holder of the jar must read before anything else. */
export interface JarNotice {
  /** `RECALLED`: one word for the head of the page. */
  readonly word: string;
  /** What was found and what to do with the jar, in plain sentences. */
  readonly sentences: readonly string[];
  /** Whom to call. */
  readonly contact: string;
}

/**
 * The page a jar's symbol opens: what its label says, and before that any notice. No neighbours, no list, no script,
 * nothing fetched from elsewhere.
 */
export function jarPage(content: LabelContent, code: string, notice: JarNotice | undefined): string {
  const { maker, lot, packedOn } = content;
  const pieces: Readonly<Record<string, string>> = {
    lang: 'en',
    title: escaped(`${notice ? `${notice.word}: ` : ''}${content.product}, lot ${lot}`),
    notice: `${content.practice ? practiceHtml : ''}${notice ? noticeHtml(notice) : ''}`,
    maker: escaped(maker.name),
    address: maker.lines.map(escaped).join('<br>'),
    rows: rows({
      Product: content.product,
      Grade: content.gradeWords,
      'Net quantity': netQuantity(content.container, content.country).lines.join(' '),
      Packed: packedWords(packedOn).replace('Packed ', ''),
      Lot: lot,
      'Jar code': printedJarCode(code),
      Contains: content.allergens?.join(', '),
      'Best before': content.bestBefore,
      Keeping: content.keep,
    }),
    contact: maker.phone
      ? `<p>Something wrong with this jar? Call ${phoneLink(maker.phone)} and say its lot.</p>\n`
      : '',
  };
  return template().replace(/\{\{(\w+)\}\}/g, (_, name: string) => pieces[name] ?? '');
}

const practiceHtml =
  '<section class="notice"><h2>PRACTICE</h2><p>This is a page of a practice book. There is no such jar.</p></section>\n';

const noticeHtml = ({ word, sentences, contact }: JarNotice): string =>
  `<section class="notice" role="alert"><h2>${escaped(word)}</h2>${sentences.map((text) => `<p>${escaped(text)}</p>`).join('')}<p>Call ${phoneLink(contact)}.</p></section>\n`;

function rows(named: Readonly<Record<string, string | null | undefined>>): string {
  return Object.entries(named)
    .filter(([, value]) => value)
    .map(([name, value]) => {
      const written = /code|Lot/.test(name) ? `<code>${escaped(value!)}</code>` : escaped(value!);
      return `<div><dt>${escaped(name)}</dt><dd>${written}</dd></div>\n`;
    })
    .join('');
}

/** A number can be called by a touch; other words are only read. */
function phoneLink(contact: string): string {
  const digits = contact.replace(/[^\d+]/g, '');
  return /^[\d\s()+.-]+$/.test(contact) && digits.length >= 7
    ? `<a href="tel:${digits}">${escaped(contact)}</a>`
    : escaped(contact);
}

let read: string | undefined;
const template = (): string => (read ??= readFileSync(templatePath('labels/jar-page.html'), 'utf8'));

const entities: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const escaped = (text: string): string => text.replace(/[&<>"]/g, (letter) => entities[letter]!);
