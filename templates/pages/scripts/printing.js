// Calls all (begin).
/* on paper nothing can be unfolded: what is folded on the screen is printed, but for cautions and parts of a form */
function openForPrint() {
  const folded = all('main details:not([open])').filter((part) => !part.closest('form, .cautions'));
  for (const part of folded) part.open = true;
  addEventListener('afterprint', () => folded.forEach((part) => (part.open = false)), { once: true });
}
