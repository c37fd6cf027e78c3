// Calls all, one (begin), origin, ownName (origin).
/* what was typed survives a reload; it is the writer's own, in this book, and is forgotten once it is sent */
const drafts = () => JSON.parse(localStorage.getItem('drafts') || '{}');
const saveDrafts = (kept) => localStorage.setItem('drafts', JSON.stringify(kept));
function dropDraft(name) {
  const { [name]: _gone, ...rest } = drafts();
  saveDrafts(rest);
}
const draftName = (form) => form.dataset.draft && ownName(form.dataset.draft);
const ownFields = (form) =>
  all('input, textarea, select', form).filter(
    (f) => f.name && !f.name.startsWith('_') && f.type !== 'hidden' && f.type !== 'password' && f.type !== 'file',
  );

function keepDraft(form) {
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

/** A link that picks a lot was pressed after the draft was typed: the draft doesn't put another lot in its place. */
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
      if (f.type === 'checkbox' || f.type === 'radio') f.checked = f.checked || f.value === value;
      else if (f.value !== value) f.value = value;
      if (value && f.tagName !== 'SELECT' && f.type !== 'radio') typed++;
      if (value) f.closest('details')?.setAttribute('open', '');
    }
  if (typed === 0) return;
  sayAbove(form, 'What you typed here before is still there. ', [
    'Clear it',
    () => {
      dropDraft(draftName(form));
      location.reload();
    },
  ]);
  // What is drawn or worked out from the boxes follows what stands in them again.
  form.dispatchEvent(new Event('input'));
}

/** Kept by an earlier version, which didn't say whose it was or of which book: it is asked about, not filled in. */
function offerUnsigned(form) {
  const unsigned = drafts()[form.dataset.draft];
  if (!unsigned?.fields?.some(([, value]) => value)) return;
  const answered = (take) => () => {
    dropDraft(form.dataset.draft);
    one('.noted', form).remove();
    if (take) restore(form, unsigned.fields);
  };
  sayAbove(
    form,
    'Something was typed here on this device before the program was updated; it doesn’t say by whom. ',
    ['Fill it in', answered(true)],
    ['Discard it', answered(false)],
  );
}

function sayAbove(form, text, ...answers) {
  const words = document.createElement('p');
  words.className = 'noted';
  words.textContent = text;
  for (const [label, onclick] of answers)
    words.append(
      Object.assign(document.createElement('button'), {
        type: 'button',
        className: 'plain',
        textContent: label,
        onclick,
      }),
      ' ',
    );
  form.prepend(words);
}

/** A draft that was sent is forgotten on the next page that isn't its own form shown again, nor says it wasn't saved. */
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
