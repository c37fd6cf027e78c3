import { describe, expect, test } from '@jest/globals';
import { waterFailed } from '#libs/syrup/contents/cleaning-words.js';
import { harmIn } from '#libs/syrup/contents/harm-words.js';
import { judgeDefoamer } from '#libs/syrup/contents/judge-defoamer.js';
import { otherProductOf } from '#libs/syrup/contents/judge-product.js';
import { spoilageIn } from '#libs/syrup/contents/spoilage-words.js';

/** Words thought out against the lists, not from them: misspelt, plural, French, and those that only sound so. */
const words = (text: string): readonly string[] => text.split(' | ');

describe('a defoamer with the answer “none”', () => {
  const holds = (name: string): boolean =>
    judgeDefoamer({ of: 'boil 26077A', about: 'boil/26077A', names: [name], answers: ['none'] }).some(
      ({ stop }) => stop,
    );

  test.each(
    words(
      'buttter | buttered paper | oleo | half & half | clarified butter | beurre salé | crème fraîche | ghi | yogurt | whipped topping | coffee creamer | milk powder | petit-lait | oleomargarine | walnut oil | huile de noisette | sesame oil | blanc d’œuf | lécithine | peanutbutter | pea-nut oil | beurre d’arachide | wheat flour | a pat of butter',
    ),
  )('“%s” is contradicted by its name', (name) => expect(holds(name)).toBe(true));

  test.each(
    words(
      'cocoa butter | lactose-free canola | vegan butter | sunflower lecithin | huile de tournesol | safflower oil | lard | dairy-free drops | nut free oil | coconut milk | sans lactose, huile de colza | butternut bark',
    ),
  )('“%s” is not', (name) => expect(holds(name)).toBe(false));

  test('butter is answered by lactose and by dairy as by milk', () => {
    for (const answer of ['lactose', 'dairy', 'lait', 'Milk'])
      expect(judgeDefoamer({ of: 'boil', about: 'boil/1', names: ['butter'], answers: [answer] })).toEqual([]);
  });
});

describe('a product in words', () => {
  test.each(
    words(
      'Vermont maple syrup | maple sirup | Grade B | Light Amber | medium amber syrup | Fancy | sirop d’érable pur | Pure New Hampshire Maple Syrup | Grade A Very Dark Strong | 100% pure organic maple syrup | syrup',
    ),
  )('“%s” is maple syrup', (product) => expect(otherProductOf(product)).toBeUndefined());

  test.each(
    words(
      'maple cream | syrup with vanilla | bourbon barrel syrup | sirop aromatisé | tire | low-sugar syrup | birch syrup | sirop de bouleau | maple vinegar | syrup blend with corn syrup | ghost pepper syrup | walnut syrup',
    ),
  )('“%s” is not', (product) => expect(otherProductOf(product)).toBeDefined());
});

describe('signs of spoilage in what people write', () => {
  test.each(
    words(
      'white film on top | hairy growth on the surface | cottony stuff floating on it | there’s fur under the lid | mildewed | moisissures vertes | une pellicule sur le dessus | le couvercle est gonflé | ça sent l’alcool | it smells like beer | tastes like wine | bubbling like soda | popped its lid off by itself | moldd on top | de la moisisure | spores on it | it has gone bad | pot moisi | green spots on the surface',
    ),
  )('“%s” asks', (text) => expect(spoilageIn(text)).not.toEqual([]));

  test.each(
    words(
      'puffy pancakes, lovely with it | in fizzy water it is great | fermented hot sauce made with it | the flavour exploded in my mouth | no mould at all this year | sweet and sour ribs with it | spoiled rotten with this syrup | a mold for candy wanted | goes well with beer and wine | tastes great with cider | the pan kept bubbling | spots on the label | the lid popped when I opened it | shrink film on the lid came off the label | leaf mold',
    ),
  )('“%s” does not', (text) => expect(spoilageIn(text)).toEqual([]));
});

describe('harm in what a buyer writes', () => {
  test.each(
    words(
      'I have never been so sick in my life | without warning she vomited | sans doute malade à cause du sirop | no doubt sick from it | we all had cramps after | upset stomach the whole night | my son broke out in a rash | chipped a tooth on something in it | cut my lip on it | il y avait un insecte mort dedans | there was a spider in the jar | puked all night | a bolt at the bottom of the jar | mal au ventre après | found a worm in it | tasted like ammonia | had to go to the ER | a rubber ring in the syrup | a band-aid in it | my kid choked on it | mouse droppings in the box and the jar | it tastes of gas | a screw was in my coffee',
    ),
  )('“%s” asks', (text) => expect(harmIn(text)).not.toEqual([]));

  test.each(
    words(
      'we bought it in the hospital gift shop | my hair smells of smoke | nobody got sick | we did not get sick or anything | never made anybody ill | bees love your flowers in the yard | sick with envy | killer syrup | crystals like sand | the cap was hard to open | cut the label straight | my teeth ache for more sweets | no stomach ache this time | ran out of gas | a band played at your open house',
    ),
  )('“%s” does not', (text) => expect(harmIn(text)).toEqual([]));
});

describe('the result of a water test', () => {
  test.each(
    words(
      'coliform present / E. coli absent | total coliform positive (E. coli negative) | coliform present and E. coli absent | did not pass | présence de coliformes | coliformes présents | TNTC | too numerous to count | 12 colonies | not potable | eau non potable | contaminated | non conforme | unsatisfactory | bad | coliform detected | 4 CFU/100ml',
    ),
  )('“%s” failed', (result) => expect(waterFailed('', result)).toBe(true));

  test.each(
    words(
      'E. coli <1 MPN/100 mL, total coliform <1 MPN/100 mL | less than 1 cfu per 100 mL | moins de 1 UFC/100 mL | absent | pass | satisfactory | none detected | ND | coliforms 0 / E. coli 0 | conforme | potable | négatif | absence de coliformes | 0 cfu/100 mL | safe to drink | no coliform and E. coli found | not bad',
    ),
  )('“%s” did not', (result) => expect(waterFailed('', result)).toBe(false));
});
