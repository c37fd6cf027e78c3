// Redraws the label sheet as its sizes are typed; without this file "Preview" does the same.
'use strict';
(() => {
  const form = document.querySelector('form[data-drawn]');
  const shown = form && document.getElementById(form.dataset.drawn);
  if (!shown) return;
  let waiting;
  let asked = 0;

  form.addEventListener('input', () => {
    clearTimeout(waiting);
    waiting = setTimeout(draw, 400);
  });

  async function draw() {
    const mine = ++asked;
    const typed = [...new FormData(form)].filter(([name, value]) => !name.startsWith('_') && value !== '');
    try {
      const answer = await fetch(`/stocks/new?${new URLSearchParams(typed)}`);
      const drawn = new DOMParser().parseFromString(await answer.text(), 'text/html').getElementById(shown.id);
      // Responses may arrive out of order: only the newest counts.
      if (answer.ok && drawn && mine === asked) shown.replaceChildren(...drawn.childNodes);
    } catch {
      // Without the server the last drawing stays; pressing "Preview" then shows the error.
    }
  }
})();
