// Calls isNearNow, warn (warning), drafts, saveDrafts, draftName (drafts), keep (keeping), flush (waiting).
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
    carryButton(form, event.submitter);
    if (isNearNow(form)) await warn(1200);
    const keeps = form.dataset.draft || form.dataset.pad || 'keep' in form.dataset;
    if (!keeps) return send(form);
    if (await reachable()) {
      // What this person wrote before goes in first.
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

/** A form sent or kept by script leaves out the button that was pressed, so its name and value go along in a hidden field. */
function carryButton(form, button) {
  form.querySelector('[data-button]')?.remove();
  if (!button?.name) return;
  const field = document.createElement('input');
  Object.assign(field, { type: 'hidden', name: button.name, value: button.value });
  field.dataset.button = '';
  form.append(field);
}

function send(form) {
  const name = sentName(form);
  if (name && drafts()[name]) saveDrafts({ ...drafts(), [name]: { ...drafts()[name], sent: true } });
  sessionStorage.setItem('sent', name ?? '');
  form.submit();
}

/** The draft that a form sends; of an entry that was made for another book, the one of the form it came from. */
const sentName = (form) => ('keepNow' in form.dataset ? sessionStorage.getItem('sent') : draftName(form));

const reachable = () =>
  fetch('/healthz', { cache: 'no-store', signal: AbortSignal.timeout(3000) }).then(
    (answer) => answer.ok,
    () => false,
  );
