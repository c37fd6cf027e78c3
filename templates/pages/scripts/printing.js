// Calls all (begin).
/* paper can't be unfolded: what is folded on the screen is printed, except cautions and parts of forms */
function openForPrint() {
  const folded = all('main details:not([open])').filter((part) => !part.closest('form, .cautions'));
  for (const part of folded) part.open = true;
  addEventListener('afterprint', () => folded.forEach((part) => (part.open = false)), { once: true });
}
