// Calls isNearNow, warn (warning), drafts, saveDrafts (drafts), keep (keeping), waiting, flush (waiting).
/* sending: once; and where the server is out of reach the entry waits here, with its own time */
function sendWithCare(form) {
  let under = false;
  form.addEventListener('submit', async (event) => {
    if (event.submitter?.getAttribute('formmethod') === 'get') return;
    event.preventDefault();
    if (under) return;
    under = true;
    // One form may hold several deeds, each with an address of its own.
    const own = event.submitter?.getAttribute('formaction');
    if (own) form.setAttribute('action', own);
    if (isNearNow(form)) await warn(1200);
    const keeps = form.dataset.draft || form.dataset.pad || 'keep' in form.dataset;
    if (!keeps || ((await reachable()) && (await waiting()).length === 0)) return send(form);
    if (await reachable()) {
      await flush();
      return send(form);
    }
    await keep(form);
    under = false;
  });
  // A file that comes down leaves the page where it is.
  addEventListener('pageshow', () => (under = false));
  form.addEventListener('submit', () => setTimeout(() => (under = false), 4000));
}

function send(form) {
  const name = form.dataset.draft;
  if (name && drafts()[name]) saveDrafts({ ...drafts(), [name]: { ...drafts()[name], sent: true } });
  form.submit();
}

const reachable = () =>
  fetch('/healthz', { cache: 'no-store', signal: AbortSignal.timeout(3000) }).then(
    (answer) => answer.ok,
    () => false,
  );
