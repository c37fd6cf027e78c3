import { describe, expect, test } from '@jest/globals';
import { findSpoilage } from '#libs/syrup/free-text/find-spoilage.js';

const signs = (text: string): string => [...new Set(findSpoilage(text).map(({ sign }) => sign))].join();

describe('spoilage in free text', () => {
  test.each([
    ['mould', 'green mould under the lid'],
    ['mould', 'Mold on top'],
    ['mould', 'mouldy'],
    ['mould', 'two jars moldy, the rest fine'],
    ['mould', 'MOULDS on the rim'],
    ['mould', 'green fuzz on top'],
    ['mould', 'a bit fuzzy round the rim'],
    ['mould', 'mildew at the lid'],
    ['mould', 'white fungus'],
    ['mould', 'something growing in it'],
    ['mould', 'there is a growth on the syrup'],
    ['mould', 'moisi'],
    ['mould', 'Le sirop est moisi'],
    ['mould', 'bocaux moisis'],
    ['mould', 'de la moisissure sous le couvercle'],
    ['mould', 'des moisissures vertes'],
    ['mould', 'lid not tight mould under it'],
    ['mould', 'no label, mould on top'],
    ['mould', 'not only mouldy, it stank'],
    ['mould', 'no doubt mould'],
    ['mould', 'no longer sealed; mouldy'],
    ['mould', 'clear but mouldy'],
    ['mould', 'is it mould?'],
    ['mould', 'mould no lid'],
    ['mould', 'no taste of smoke. mould at the rim'],
    ['mould', 'no mould last week, mould today'],
    ['mould', 'sans étiquette, moisi'],
    ['gas', 'the lid is bulging'],
    ['gas', 'bulged'],
    ['gas', 'lids swollen'],
    ['gas', 'couvercle gonflé'],
    ['gas', 'couvercles bombés'],
    ['gas', 'it spurted when I opened it'],
    ['gas', 'fizzy'],
    ['gas', 'it fizzed'],
    ['gas', 'il pétille'],
    ['gas', 'hissed when opened'],
    ['gas', 'the jar made gas'],
    ['gas', 'jar exploded in the pantry'],
    ['fermented', 'fermented'],
    ['fermented', 'smells of fermentation'],
    ['fermented', 'sirop fermenté'],
    ['fermented', 'tastes sour'],
    ['fermented', 'gone off'],
    ['fermented', 'went bad after a week'],
    ['fermented', 'yeasty smell'],
    ['fermented', 'goût aigre'],
    ['fermented', 'spoiled'],
    ['mould,gas', 'mouldy and bulging'],
  ])('%s: %s', (sign, text) => {
    expect(signs(text)).toBe(sign);
  });

  test.each([
    '',
    'none',
    'no mould',
    'No mold.',
    'no sign of mould',
    'no mould or fizz',
    'not mouldy',
    'it was not at all mouldy',
    'didn’t see any mould',
    'isn’t fuzzy',
    'without mould',
    'free of mould',
    'mould-free',
    'mould: none',
    'mouldy? no',
    'mould no',
    'mould not seen',
    'sans moisissure',
    'pas de moisissure',
    'aucune moisissure',
    'ni moisi ni fermenté',
    'moisissure : aucune',
    'never fermented',
    'no green fuzz',
    'nothing mouldy',
    'candy mold',
    'filled the candy molds',
    'leaf mould under the taps',
    'leaf moulds for the sugar',
    'poured into molds',
    'poured into the moulds for the fair',
    'silicone molds',
    'new moulding round the door',
    'molded sugar hearts',
    'out of gas',
    'ran out of gas at noon',
    'gas can by the saw',
    'gas burner relit',
    'buds swollen, last boil soon',
    'the brook is swelling',
    'sour sap thrown out',
    'sour cream doughnuts for the crew',
    'fuzzy photo of the gauge',
    'two labels spoiled',
    'power went off for an hour',
    'smoky, woody',
    'clear, bright',
    'clair, limpide',
    'foam high, a drop of butter',
    'filtered twice, hot',
    'jar sealed and held',
    'bubbles as it cooled',
    'sap still running, growing season near',
  ])('“%s” raises no question', (text) => {
    expect(findSpoilage(text)).toEqual([]);
  });

  test('a long text takes time in proportion to its length: no text makes the search backtrack', () => {
    for (const text of ['no any ', 'mould ', 'not of the ', 'no mould, ', 'aaaa', ': ? ']) {
      const long = text.repeat(20_000);
      const begun = process.cpuUsage().user;
      findSpoilage(long.slice(0, 100_000));
      expect(process.cpuUsage().user - begun).toBeLessThan(5_000_000);
    }
  });
});
