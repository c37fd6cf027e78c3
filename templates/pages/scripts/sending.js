// Calls isNearNow, isTooCold, soundWarning (warning), drafts, saveDrafts, draftName (drafts),
// queueEntry (offline-queue), flush (waiting).
/* sends a form once; if the server is unreachable the entry is queued here, with its own time */
function sendOnce(form) {
  let isSending = false;
  form.addEventListener('submit', async (event) => {
    if (event.submitter?.getAttribute('formmethod') === 'get') return;
    event.preventDefault();
    if (isSending) return;
    isSending = true;
    // A form may have several buttons, each with its own address.
    const own = event.submitter?.getAttribute('formaction');
    if (own) form.setAttribute('action', own);
    carryButton(form, event.submitter);
    const hideBusy = showBusy(event.submitter ?? one('button', form));
    const warned = isNearNow(form) || isTooCold(form) ? soundWarning(1200) : undefined;
    const keeps = form.dataset.draft || form.dataset.pad || 'keep' in form.dataset;
    if (!keeps) return send(form);
    if (await reachable()) {
      // Earlier entries of this person are sent first.
      await flush();
      if (warned) await Promise.all([saveAhead(form), warned]);
      return send(form);
    }
    await queueEntry(form);
    isSending = false;
    hideBusy();
  });
  // A download doesn't leave the page.
  addEventListener('pageshow', () => (isSending = false));
  form.addEventListener('submit', () => setTimeout(() => (isSending = false), 4000));
}

/** Shows that the entry is being sent; returns a function that hides the message. */
function showBusy(button) {
  button?.setAttribute('aria-busy', 'true');
  const hideBusy = () => button?.removeAttribute('aria-busy');
  addEventListener('pageshow', hideBusy);
  setTimeout(hideBusy, 4000);
  return hideBusy;
}

/**
 * Saves a reading while its warning sounds, which leaving the page would cut off. The form is then sent as usual: its
 * token makes it the same entry, and the response is the page to show.
 */
const saveAhead = (form) =>
  fetch(form.getAttribute('action'), { method: 'POST', redirect: 'manual', body: bodyOfForm(form) }).catch(
    () => undefined,
  );

function bodyOfForm(form) {
  const fields = new FormData(form);
  return form.enctype === 'multipart/form-data' ? fields : new URLSearchParams(fields);
}

/**
 * A form sent or queued by script omits the button that was pressed, so its name and value are added as a hidden field.
 */
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

/** The name of the draft that a form sends; for an entry made for another book, that of the form it came from. */
const sentName = (form) => ('keepNow' in form.dataset ? sessionStorage.getItem('sent') : draftName(form));

const reachable = () =>
  fetch('/healthz', { cache: 'no-store', signal: AbortSignal.timeout(3000) }).then(
    (answer) => answer.ok,
    () => false,
  );
