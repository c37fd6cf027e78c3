// Calls all, one (begin), origin, ownName (origin).
/* drafts: typed text survives a reload; it belongs to its writer and this book, and is deleted once it is sent */
const drafts = () => JSON.parse(localStorage.getItem('drafts') || '{}');
const saveDrafts = (byName) => localStorage.setItem('drafts', JSON.stringify(byName));
function deleteDraft(name) {
  const { [name]: _gone, ...rest } = drafts();
  saveDrafts(rest);
}
const draftName = (form) => form.dataset.draft && ownName(form.dataset.draft);
const ownFields = (form) =>
  all('input, textarea, select', form).filter(
    (f) => f.name && !f.name.startsWith('_') && f.type !== 'hidden' && f.type !== 'password' && f.type !== 'file',
  );

function saveDraftAsTyped(form) {
  const name = draftName(form);
  const before = drafts()[name];
  if (before && !one('#summary')) restore(form, before.fields.filter(notChosenByAddress(form)));
  if (!before && origin()) offerUnsigned(form);
  form.addEventListener('input', () => {
    const fields = ownFields(form)
      .filter((f) => (f.type !== 'checkbox' && f.type !== 'radio') || f.checked)
      .map((f) => [f.name, f.value]);
    saveDrafts({ ...drafts(), [name]: { fields } });
  });
}

/** A link that picks a lot was followed after the draft was typed: the draft doesn't replace that lot. */
function notChosenByAddress(form) {
  const arrived = performance.getEntriesByType('navigation')[0]?.type === 'navigate';
  if (!location.search || !arrived) return () => true;
  const chosen = ownFields(form).filter((f) =>
    f.type === 'radio' || f.type === 'checkbox' ? f.checked && f.value : f.tagName !== 'SELECT' && f.value,
  );
  const names = new Set(chosen.map((f) => f.name));
  return ([name]) => !names.has(name);
}

function restore(form, fields) {
  let typed = 0;
  for (const [name, value] of fields)
    for (const f of ownFields(form).filter((each) => each.name === name)) {
      // A unit that nobody changed doesn't open the part that it is folded in.
      const isTyped = f.tagName === 'SELECT' ? f.value !== value : value;
      if (f.type === 'checkbox' || f.type === 'radio') f.checked = f.checked || f.value === value;
      else if (f.value !== value) f.value = value;
      if (value && f.tagName !== 'SELECT' && f.type !== 'radio') typed++;
      if (isTyped) f.closest('details')?.setAttribute('open', '');
    }
  if (typed === 0) return;
  showMessageAbove(form, 'What you typed here before is still there. ', [
    'Clear it',
    () => {
      deleteDraft(draftName(form));
      location.reload();
    },
  ]);
  // Whatever is drawn or calculated from the boxes is updated.
  form.dispatchEvent(new Event('input'));
}

/** A draft of an earlier version, without its writer and book: the person is asked, and nothing is filled in. */
function offerUnsigned(form) {
  const unsigned = drafts()[form.dataset.draft];
  if (!unsigned?.fields?.some(([, value]) => value)) return;
  const answered = (take) => () => {
    deleteDraft(form.dataset.draft);
    one('.noted', form).remove();
    if (take) restore(form, unsigned.fields);
  };
  showMessageAbove(
    form,
    'Something was typed here on this device before the program was updated; it doesn’t say by whom. ',
    ['Fill it in', answered(true)],
    ['Discard it', answered(false)],
  );
}

function showMessageAbove(form, text, ...answers) {
  const message = document.createElement('p');
  message.className = 'noted';
  message.textContent = text;
  for (const [label, onclick] of answers)
    message.append(
      Object.assign(document.createElement('button'), {
        type: 'button',
        className: 'plain',
        textContent: label,
        onclick,
      }),
      ' ',
    );
  form.prepend(message);
}

/** Deletes a draft that was sent, on the next page, unless that is its own form shown again or says it wasn't saved. */
function forgetSentDrafts() {
  const unsaved = 'unsaved' in document.body.dataset;
  const here = new Set(all('form[data-draft]').map(draftName));
  saveDrafts(
    Object.fromEntries(
      Object.entries(drafts())
        .filter(([name, draft]) => unsaved || !draft.sent || here.has(name))
        .map(([name, draft]) => [name, { fields: draft.fields }]),
    ),
  );
}
