// No line ends between a number and its unit, or between a day and its month.

const numberWithUnit =
  /((?:± ?)?\d[\d.,]*(?: ± \d[\d.,]*)? (?:°(?:Bx|Bé|F|C)|%|fl oz|gal|qt|pt|mL|L|mm|ppb|h|min|hours?|days?|jars?|(?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)(?: \d{4})?(?: \d\d:\d\d)?)(?![\p{L}\d])|jars? \d+-\d+)/u;

/**
 * Puts each into an element that doesn't wrap: its spaces stay ordinary ones, for a search in the page. In a flex or grid
 * container such an element would lose the space before it, and an SVG can't hold it.
 */
function keepUnitsTogether() {
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const found = [];
  while (walker.nextNode()) if (numberWithUnit.test(walker.currentNode.data)) found.push(walker.currentNode);
  for (const text of found) {
    const around = text.parentElement;
    if (around.closest('svg, select, textarea, script, pre, .whole, .when')) continue;
    if (/flex|grid|contents/.test(getComputedStyle(around).display)) continue;
    text.replaceWith(
      ...text.data.split(numberWithUnit).map((part, n) => {
        if (n % 2 === 0) return part;
        return Object.assign(document.createElement('span'), { className: 'whole', textContent: part });
      }),
    );
  }
}
