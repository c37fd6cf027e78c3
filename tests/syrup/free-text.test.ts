import { describe, expect, test } from '@jest/globals';
import { waterFailed } from '#libs/syrup/free-text/cleaning-text.js';
import { findHarm } from '#libs/syrup/free-text/find-harm.js';
import { judgeDefoamer } from '#libs/syrup/contents/judge-defoamer.js';
import { otherProductOf } from '#libs/syrup/contents/judge-product.js';
import { parseAllergenAnswer } from '#libs/syrup/contents/allergens.js';
import { findAddedIngredient } from '#libs/syrup/contents/judge-product.js';
import { isClear, isNoOffFlavour, isOffSale } from '#libs/syrup/free-text/short-answers.js';
import { findSpoilage } from '#libs/syrup/free-text/find-spoilage.js';

/**
 * Texts invented to test the word lists, not taken from them: misspelt, plural, French, and those that only sound
 * alike.
 */
const wordsOf = (text: string): readonly string[] => text.split(' | ');

describe('a defoamer answered “none”', () => {
  const holds = (name: string): boolean =>
    judgeDefoamer({ of: 'boil 26077A', about: 'boil/26077A', names: [name], answers: ['none'] }).some(
      ({ stop }) => stop,
    );

  test.each(
    wordsOf(
      'buttter | buttered paper | oleo | half & half | clarified butter | beurre salé | crème fraîche | ghi | yogurt | whipped topping | coffee creamer | milk powder | petit-lait | oleomargarine | walnut oil | huile de noisette | sesame oil | blanc d’œuf | lécithine | peanutbutter | pea-nut oil | beurre d’arachide | wheat flour | a pat of butter | penut oil | peanuts oil | pea nut butter',
    ),
  )('“%s” has a name that contradicts it', (name) => expect(holds(name)).toBe(true));

  test.each(
    wordsOf(
      'cocoa butter | lactose-free canola | vegan butter | sunflower lecithin | huile de tournesol | safflower oil | lard | dairy-free drops | nut free oil | coconut milk | sans lactose, huile de colza | butternut bark',
    ),
  )('“%s” has not', (name) => expect(holds(name)).toBe(false));

  test('that is butter is answered by lactose and by dairy as by milk', () => {
    for (const answer of ['lactose', 'dairy', 'lait', 'Milk'])
      expect(judgeDefoamer({ of: 'boil', about: 'boil/1', names: ['butter'], answers: [answer] })).toEqual([]);
  });
});

describe('the name of a product', () => {
  test.each(
    wordsOf(
      'Vermont maple syrup | maple sirup | Grade B | Light Amber | medium amber syrup | Fancy | sirop d’érable pur | Pure New Hampshire Maple Syrup | Grade A Very Dark Strong | 100% pure organic maple syrup | syrup | pure maple | first run | late run dark | wood-fired maple syrup | single origin maple syrup | unfiltered maple syrup | maple syrup - wedding favors',
    ),
  )('“%s” is maple syrup', (product) => expect(otherProductOf(product)).toBeUndefined());

  test.each(
    wordsOf(
      'maple cream | syrup with vanilla | bourbon barrel syrup | sirop aromatisé | tire | low-sugar syrup | birch syrup | sirop de bouleau | maple vinegar | syrup blend with corn syrup | ghost pepper syrup | walnut syrup',
    ),
  )('“%s” is not', (product) => expect(otherProductOf(product)).toBeDefined());
});

describe('signs of spoilage in free text', () => {
  test.each(
    wordsOf(
      'white film on top | hairy growth on the surface | cottony stuff floating on it | there’s fur under the lid | mildewed | moisissures vertes | une pellicule sur le dessus | le couvercle est gonflé | ça sent l’alcool | it smells like beer | tastes like wine | bubbling like soda | popped its lid off by itself | moldd on top | de la moisisure | spores on it | it has gone bad | pot moisi | green spots on the surface | a skin on top | white stuff floating on it | growing hair on it | sparkling like soda | carbonated | des taches vertes | black dots floating | there was green in it | goût suri | le couvercle a sauté tout seul | something green on top | un point noir dans le sirop | un drôle de goût, comme du vinaigre | it went off after a week | the lid was convex | domed lid | bubbles when I opened it | foamy and smelled funny | it smelled off | smells bad | it stinks | mother of vinegar in it | something like cobweb on the surface | grey fluff | it had turned | ça mousse quand on ouvre | odeur de levure | tasted like kombucha | pressure in the jar when I opened | little black hairs growing | there were spots | it was alive | lid flew off | tasted alcoholic | acidic taste | smelled like old socks | something had grown on it | couvercle soulevé | something is living in there | lid was puffed up | it spat at me when opened | vinegar smell | brown scum | ça goûte le vin | it has gone funny | a greenish layer on it | foul odour | it was off | sourish | beery | le dessus est vert | frothing | cottony blob | it had a film | lid had popped up | a blue patch',
    ),
  )('“%s” raises a question', (text) => expect(findSpoilage(text)).not.toEqual([]));

  test.each(
    wordsOf(
      'puffy pancakes, lovely with it | in fizzy water it is great | fermented hot sauce made with it | the flavour exploded in my mouth | no mould at all this year | sweet and sour ribs with it | spoiled rotten with this syrup | a mold for candy wanted | goes well with beer and wine | tastes great with cider | the pan kept bubbling | spots on the label | the lid popped when I opened it | shrink film on the lid came off the label | leaf mold | skimmed the scum off the top | a skin on the pan | white label in the box | black lid on the jar | blue ribbon on the jar | sparkling clear | amber in the jar | the mold you sold us for candy | the lid is still on, foam cup next to it | came in a foam box | the party went off without a hitch | it doesn’t taste bad | bad weather delayed us | the leaves turned and we came | it bubbled up nicely when I made taffy | what wine goes with it? | a living tradition | the power was off | bad weather | it spat in the pan | red wine glaze | blue cheese with it | growth of the business',
    ),
  )('“%s” does not', (text) => expect(findSpoilage(text)).toEqual([]));
});

describe('harm in a buyer’s report', () => {
  test.each(
    wordsOf(
      'I have never been so sick in my life | never made anybody ill | without warning she vomited | sans doute malade à cause du sirop | no doubt sick from it | we all had cramps after | upset stomach the whole night | my son broke out in a rash | chipped a tooth on something in it | cut my lip on it | il y avait un insecte mort dedans | there was a spider in the jar | puked all night | a bolt at the bottom of the jar | mal au ventre après | found a worm in it | tasted like ammonia | had to go to the ER | a rubber ring in the syrup | a band-aid in it | my kid choked on it | mouse droppings in the box and the jar | it tastes of gas | a screw was in my coffee | metal shavings in it | a glass chip | kid got the runs | la langue enflée | wood splinters | a piece of rubber | an allergic reaction | she was allergic to it | allergic to nuts and got hives | a sliver in the bottom | my husband broke a molar | my tongue tingled | itchy mouth after | something black and hard | got the squits | a piece of foil | a tick floating in it | a paper clip in it | tastes of metal | my throat closed up | worms | a fly | a bug inside | bleachy taste | indigestion toute la nuit | plastic film inside the jar',
    ),
  )('“%s” raises a question', (text) => expect(findHarm(text)).not.toEqual([]));

  test.each(
    wordsOf(
      'we bought it in the hospital gift shop | my hair smells of smoke | nobody got sick | we did not get sick or anything | bees love your flowers in the yard | sick with envy | killer syrup | crystals like sand | the cap was hard to open | cut the label straight | my teeth ache for more sweets | no stomach ache this time | ran out of gas | a band played at your open house | is it safe? I am allergic to nuts | allergique aux noix, est-ce correct ? | the glass was broken in the mail | it runs well off the spoon | rubber band around the box | my knee swelled up | the lid was hard to open | a metal cap | the store was closed | hospital staff loved it | flies off the shelf | my baby is 6 months, can she have it?',
    ),
  )('“%s” does not', (text) => expect(findHarm(text)).toEqual([]));
});

describe('the result of a water test', () => {
  test.each(
    wordsOf(
      'coliform present / E. coli absent | total coliform positive (E. coli negative) | coliform present and E. coli absent | did not pass | présence de coliformes | coliformes présents | TNTC | too numerous to count | 12 colonies | not potable | eau non potable | contaminated | non conforme | unsatisfactory | bad | coliform detected | 4 CFU/100ml',
    ),
  )('“%s” failed', (result) => expect(waterFailed('', result)).toBe(true));

  test.each(
    wordsOf(
      'E. coli <1 MPN/100 mL, total coliform <1 MPN/100 mL | less than 1 cfu per 100 mL | moins de 1 UFC/100 mL | absent | pass | satisfactory | none detected | ND | coliforms 0 / E. coli 0 | conforme | potable | négatif | absence de coliformes | 0 cfu/100 mL | safe to drink | no coliform and E. coli found | not bad',
    ),
  )('“%s” did not', (result) => expect(waterFailed('', result)).toBe(false));
});

describe('an answer for allergens', () => {
  test.each(
    wordsOf(
      'see label | check the bottle | probably none | none that I know of | ask the dealer | voir l’étiquette | je crois que non | not sure',
    ),
  )('“%s” is no answer', (typed) => expect(parseAllergenAnswer(typed).answered).toBe(false));

  test.each(
    wordsOf('none | none per label | no allergens listed | contains none | allergen free | aucun | sans allergène'),
  )('“%s” is none', (typed) => expect(parseAllergenAnswer(typed)).toEqual({ answered: true, named: [] }));
});

describe('a note of an added ingredient', () => {
  test.each(
    wordsOf(
      'added two vanilla beans | with a splash of bourbon | infused with ginger | stirred in some honey | ajouté de la cannelle | aged in rum casks',
    ),
  )('“%s” names one', (note) => expect(findAddedIngredient(note)).toBeDefined());

  test.each(
    wordsOf(
      'no sugar added | smells of vanilla | nothing added, tastes like butter | goes well in coffee | rum next door',
    ),
  )('“%s” does not', (note) => expect(findAddedIngredient(note)).toBeUndefined());
});

describe('the flavour and look of syrup', () => {
  test.each(
    wordsOf(
      'tastes great | maple | no off flavors | delicious | none (WE tasted) | not tasted | nothing wrong | RAS | rien à signaler | aucun défaut | pas de mauvais goût',
    ),
  )('“%s” is no off flavour', (text) => expect(isNoOffFlavour(text)).toBe(true));

  test.each(
    wordsOf(
      'a bit smoky | slight buddy | metallic | not good | no good | yes | tastes off | no maple taste | pas bon | sweet and sour | mauvais goût | none too good',
    ),
  )('“%s” may be one', (text) => expect(isNoOffFlavour(text)).toBe(false));

  test.each(
    wordsOf(
      'clear as a bell | very clear, amber | clear after filtering twice | no niter | nice and clear | cleared overnight | belle et claire | limpide, sans dépôt | not cloudy | bright, OE',
    ),
  )('“%s” is clear', (text) => expect(isClear(text)).toBe(true));

  test.each(
    wordsOf(
      'a little niter | mostly clear | not clear | clear on top, sand at the bottom | no | pas claire | un dépôt | never cleared | no clear | looks bad',
    ),
  )('“%s” is not', (text) => expect(isClear(text)).toBe(false));
});

describe('the outcome of jars whose seals failed', () => {
  test.each(
    wordsOf(
      'for ourselves | re-poured into fresh jars | put back in kettle | frozen for us | poured out | fed to the pigs | pour nous | refaits avec couvercles neufs',
    ),
  )('“%s” takes them off sale', (text) => expect(isOffSale(text)).toBe(true));

  test.each(
    wordsOf('staff took them home | fire department breakfast | new lids on | they sealed later | pressed down'),
  )('“%s” does not', (text) => expect(isOffSale(text)).toBe(false));
});
