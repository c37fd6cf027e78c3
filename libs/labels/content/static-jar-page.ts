import { readFileSync } from 'node:fs';
import { templatePath } from '#libs/package-root.js';
import { printedJarCode } from '#libs/syrup/codes/jar-codes.js';
import type { LabelContent } from './label.js';
import { packedText } from './label-text.js';
import { netQuantity } from './net-quantity.js';
import { type JarStory, storySentences, storySentencesFr } from './story-text.js';

/** The notice that a holder of the jar must read first. */
export interface JarNotice {
  /** `RECALLED`: one word for the head of the page. */
  readonly word: string;
  /** What was found and what to do with the jar, in plain sentences. */
  readonly sentences: readonly string[];
  /** The same in French, for labels in both languages. */
  readonly wordFr: string;
  readonly sentencesFr: readonly string[];
  /** Whom to call. */
  readonly contact: string;
}

export interface JarPageParts {
  readonly code?: string | undefined;
  readonly notice?: JarNotice | undefined;
  readonly story?: JarStory | undefined;
  /** The address of the story's photo; empty where it isn't shown. */
  readonly photoAddress?: string | undefined;
}

/**
 * The page that a jar's symbol opens: any notice first, then the label's content, also in French where the label is
 * bilingual. Without a code it is the page of the lot. It has no links to other jars, no script, and loads nothing from
 * elsewhere.
 */
export function jarPage(content: LabelContent, { code, notice, story, photoAddress = '' }: JarPageParts): string {
  const { maker, lot, packedOn } = content;
  const pieces: Readonly<Record<string, string>> = {
    lang: 'en',
    title: escaped(`${notice ? `${notice.word}: ` : ''}${content.product}, lot ${lot}`),
    notice: `${content.practice ? practiceHtml(content.bilingual) : ''}${notice ? noticeHtml(notice, content.bilingual) : ''}`,
    maker: escaped(maker.name),
    address: maker.lines.map(escaped).join('<br>'),
    rows: rows(
      [
        { term: 'Product', fr: 'Produit', value: content.product, valueFr: content.productFr },
        { term: 'Grade', fr: 'Catégorie', value: content.gradeText, valueFr: content.gradeTextFr },
        {
          term: 'Net quantity',
          fr: 'Quantité nette',
          value: unbroken(netQuantity(content.container, content.country).lines.join(' ')),
        },
        { term: 'Packed', fr: 'Emballé', value: packedText(packedOn).replace('Packed ', '') },
        { term: 'Lot', fr: 'Lot', value: lot, isCode: true },
        { term: 'Jar code', fr: 'Code du pot', value: code && printedJarCode(code), isCode: true },
        { term: 'Contains', fr: 'Contient', value: content.allergens?.join(', ') },
        { term: 'Best before', fr: 'Meilleur avant', value: content.bestBefore },
        { term: 'Keeping', fr: 'Conservation', value: content.keep, valueFr: content.keepFr },
        ...(content.publicTexts ?? []).map(({ label, text }) => ({ term: label, value: text })),
      ],
      content.bilingual,
    ),
    story: story ? storyHtml(story, content.bilingual, photoAddress) : '',
    contact: maker.phone ? contactHtml(phoneLink(maker.phone), content.bilingual) : '',
  };
  return template().replace(/\{\{(\w+)\}\}/g, (_, name: string) => pieces[name] ?? '');
}

/** The story, where the maker shows one; the photo comes before the sentences. */
function storyHtml(story: JarStory, bilingual: boolean, photoAddress: string): string {
  const english = storySentences(story).map((text) => `<p>${escaped(text)}</p>`);
  const { photo } = story;
  const picture =
    photo && photoAddress
      ? `<img src="${escaped(photoAddress)}" alt="${escaped(photo.shows)}" width="${photo.widthPx}" height="${photo.heightPx}">`
      : '';
  if (english.length === 0 && picture === '') return '';
  const inFrench = bilingual ? storySentencesFr(story).map((text) => french('p', text)) : [];
  return `<section class="story"><h2>Its story</h2>${picture}${english.join('')}${inFrench.join('')}</section>\n`;
}

const practiceHtml = (bilingual: boolean): string =>
  `<section class="notice"><h2>PRACTICE</h2><p>This is a page of a practice book. There is no such jar.</p>${
    bilingual ? french('p', 'Page d’un livre d’exercice. Ce pot n’existe pas.') : ''
  }</section>\n`;

const contactHtml = (phone: string, bilingual: boolean): string =>
  `<p>Something wrong with this jar? Call ${phone} and give its lot code.</p>\n${
    bilingual ? `<p lang="fr">Un problème avec ce pot ? Appelez le ${phone} et donnez son numéro de lot.</p>\n` : ''
  }`;

const noticeHtml = ({ word, sentences, wordFr, sentencesFr, contact }: JarNotice, bilingual: boolean): string =>
  [
    `<section class="notice" role="alert"><h2>${escaped(word)}</h2>`,
    ...sentences.map((text) => `<p>${escaped(text)}</p>`),
    `<p>Call ${phoneLink(contact)}.</p>`,
    ...(bilingual
      ? [
          french('h2', wordFr),
          ...sentencesFr.map((text) => french('p', text)),
          `<p lang="fr">Appelez : ${phoneLink(contact)}.</p>`,
        ]
      : []),
    '</section>\n',
  ].join('');

const french = (tag: string, text: string): string => `<${tag} lang="fr">${escaped(text)}</${tag}>`;

/** A number stays on one line with its unit. */
const unbroken = (text: string): string => text.replace(/(\d) (?=\p{L})/gu, '$1\u00a0');

interface JarLine {
  readonly term: string;
  readonly fr?: string;
  readonly value: string | null | undefined;
  readonly valueFr?: string | undefined;
  readonly isCode?: boolean;
}

function rows(lines: readonly JarLine[], bilingual: boolean): string {
  const inFrench = (word: string, fr: string | undefined): string =>
    bilingual && fr !== undefined && fr !== word ? `<br><span lang="fr">${escaped(fr)}</span>` : '';
  return lines
    .flatMap(({ value, ...line }) => (value ? [{ ...line, value }] : []))
    .map(({ term, fr, value, valueFr, isCode }) => {
      const valueHtml = isCode ? `<code>${escaped(value)}</code>` : `${escaped(value)}${inFrench(value, valueFr)}`;
      return `<div><dt>${escaped(term)}${inFrench(term, fr)}</dt><dd>${valueHtml}</dd></div>\n`;
    })
    .join('');
}

/** A telephone number becomes a link; other text stays text. */
function phoneLink(contact: string): string {
  const digits = contact.replace(/[^\d+]/g, '');
  return /^[\d\s()+.-]+$/.test(contact) && digits.length >= 7
    ? `<a href="tel:${digits}">${escaped(contact)}</a>`
    : escaped(contact);
}

let cachedTemplate: string | undefined;
const template = (): string => (cachedTemplate ??= readFileSync(templatePath('labels/jar-page.html'), 'utf8'));

const entities: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const escaped = (text: string): string => text.replace(/[&<>"]/g, (letter) => entities[letter]!);
