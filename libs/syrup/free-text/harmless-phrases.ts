/** The beginnings of a question to the sugarhouse. */
export const questionToSugarhouse =
  /^(?:do|does|can|could|may|would|will|have|are|is there|what time|whats your|when|where|how|which|acceptez|avez|faites|pouvez|peut|peux|puis|ou|quand|quelles?|a quelle|combien|faut|y a t) /u;

/** Harmless phrases without a word of praise or of an order; every other word of the clause has to be known as well. */
export const harmlessPhrases: readonly RegExp[] = [
  /\b(?:wants?|wanted|needs?|needed|asks?|asked|asking|voudr\w+|veut|veulent|aimer\w+|redemande\w*)\b.*\b(?:more|some|another|again|encore|autres?|instead|six|two|three|four|dozen|\d+)\b/u,
  /\b(?:use|uses|used|using|put|puts|eat|eats|ate|try|tried|mix|mixed|make|makes|made|goes|go|add|added|drizzled?|baked?|cook|cooked|met|mets|mettre|utilise\w*|mange\w*|cuisine\w*)\b.*\b(?:everything|pancakes?|waffles?|crepes?|toast|oatmeal|porridge|granola|coffee|tea|baking|cookies?|cakes?|muffins?|salad|dressing|salmon|ham|bacon|glaze|marinade|squash|carrots|yogu?rt|ice cream|cocktails?|smoothies?|partout|gaufres?|cafe|gruau|jambon|saumon|gateaux?|tartes?)\b/u,
  /^(?:and |so |et )?(?:how (?:much|many|long|do|does|can|often|far|late)|when|where|which (?:one|grade|is)|do you|have you|are you|could (?:you|i|we)|can (?:you|i|we)|would you|may i|should (?:i|we)|does it need|will you|combien|quand|ou peut|avez vous|est ce que vous|pouvez vous|puis je|peut on)\b(?!.*\b(?:on it|in it|see|tell|eat|explain|know|that)\b)/u,
  /\b(?:all gone|ran out|gone in|finished (?:it|the|that|ours|one)|last drop|none left|nen reste plus|tout mange|fini le pot)\b/u,
  /\b(?:hard|tough|difficult|tight|tightly|impossible|stuck|wrench|arthritic|heavy|stiff|dur|difficile|serre|arthritis)\b.*\b(?:open|lid|cap|pour|hold|jar|off|jug|bottle|ouvrir|pot|verser)\b|\b(?:lid|cap|jar|couvercle|bouchon|pot)\b.*\b(?:hard|tough|tight|stuck|stiff|impossible|difficult|heavy|dur|serre|difficile|lourde?)\b|\b(?:arrive pas a|ne peux pas|cant) (?:ouvrir|open)\b|\bimpossible d ?ouvrir\b/u,
  /\b(?:pours?|pouring) (?:so |very |really )?(?:well|nicely|easily)|\bdrips? when|\bspout drips\b/u,
  /\bnever (?:came|come|showed up)\b|\b(?:took|takes) (?:\w+ ){1,2}(?:days|weeks|months)\b|\bonly got\b|\bgot (?:\w+ ){1,2}(?:jars|bottles) paid\b/u,
  /^(?:any|is there|are there|does it|y a t il|cest fait|est ce fait|is it made|may we|what time|why are|why is) .*\b(?:nuts?|milk|butter|sugar|gluten|dairy|beurre|noix|lait|sucre|open|bring|come|visit|grades?|dark)\b|\bquel (?:gout|sirop|delice)\b|\b(?:prends?|veut|veulent) .*\b(?:autres?|gallon|litres?|pots?|caisse)\b/u,
  /\b(?:tastes?|tasted|gout) (?:\w+ ){0,1}(?:like|of|de) (?:\w+ ){0,2}(?:spring|smoke|woodsmoke|home|caramel|vanilla|childhood|mothers|grandmas|fathers|grandfathers|summer|honey|toffee)\b/u,
  /\b(?:not|never) opened\b|\bdid not want\b|\bjust a (?:question|thank)|\bback for (?:\w+ )?(?:more|three|two|another)\b|\bneeded a tool\b|\bnobody (?:was|got) (?:ill|sick)\b|\bill fitting\b|\bbouchon colle\b|\bcandy mou?lds?\b|\bran out of gas\b|\b(?:could not|couldnt) (?:open|find|scan|read)\b|\blooking for\b|\bunopened\b|\bpas ouverte?s?\b|\bstill sealed\b/u,
  /\bchanged? (?:her|his|their|my|our|d ?) ?(?:mind|idee)\b|\bdid not need\b|\bdidnt need\b/u,
  /\bstrong maple|\bmaple (?:flavou?r|taste)\b|\bgout derable|\bgout d erable/u,
  /\btoo (?:many|much)\b|\bnot (?:as|so|too) (?:dark|light|smoky|thick|big|small)\b|\bhow it is made\b/u,
  /\b(?:cant|couldnt|cannot|could not) get the (?:lid|cap) off\b|\b(?:so|too|very) tight$|\bpliers\b|\bgoes through\b|\bhints? of\b|\b(?:bottles|jugs|jars) in glass\b/u,
  /^\d+ \d+$|\b(?:see|meet|met) you\b|\bhello to\b|\bhappy (?:holidays|new|easter)\b|\brien a (?:dire|redire|signaler)\b/u,
  /\b(?:made (?:my|our) day|you (?:guys )?rock|keep it up|thumbs up|as always|nothing to report|no trouble|all good|in one piece|by mistake|by accident|like liquid gold|taste of home|reminds (?:me|us) of (?:my|our|the|home|when|childhood|spring)|jaime mieux|de trop|put (?:me|us) down for)\b|^(?:ok|okay|cheers|ditto)$/u,
];

/** A lid that isn’t tight, a jar that isn’t full or syrup outside it: never harmless. */
export const suspectPhrases =
  /\b(?:not|isnt|wasnt|arent|werent|never|less|pas|peu) (?:\w+ ){0,2}(?:tight|tightly|hard|stuck|closed|serree?|fermee?)\b|\b(?:less|more|half|part|partly|moitie|vide)\b.*\b(?:in|full|empty|than when|vide|moitie)\b|\bvide a\b|\btight as\b|\b(?:not|nothing|isnt|wasnt|doesnt) (?:\w+ )?like\b|\b(?:boil|heat)\b.*\bagain\b|\bplus (?:maintenant|pareil|pareille|le meme|la meme|comme|bon)\b|\bany ?more\b|\bwhats? (?:is )?(?:in|on)\b|\b(?:did|do) you put\b|\blook at\b|\b(?:box|label|parcel|carton|package)\b.*\b(?:syrup|smelling|soaked|sticky)\b|\b(?:still|encore) (?:ok|good|fine|safe|bon)\b|\b(?:colou?rs|couleurs) (?:in|dans)\b|\bwith (?:\w+ ){1,2}(?:on|in) (?:it|them)\b/u;

/** `it did not keep`, `ça ne se garde pas`. */
export const keepingWords = /\b(?:keep|keeps|kept|garde|conserve|fresh|sweet|like|good|bon)\b/u;

/** An emoji other than a smile, heart or thumb may describe the syrup. */
export const unclearEmoji = /(?![❤♥👍👌😊😍😋🙂😀😃😄🥰🙏⭐🍁🥞])\p{Extended_Pictographic}/u;
