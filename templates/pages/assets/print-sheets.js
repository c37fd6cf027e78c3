// Opens the print dialogue as soon as the sheets are loaded; without script, use the browser's own menu.
'use strict';
(() => {
  const button = document.querySelector('[data-print]');
  button?.addEventListener('click', () => window.print());
  if (document.body.dataset.opens !== undefined) window.addEventListener('load', () => window.print());
})();
