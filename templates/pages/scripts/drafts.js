// Calls all, one (begin).
/* what was typed survives a reload; it is the writer's own, and is forgotten once it is sent */
const drafts = () => JSON.parse(localStorage.getItem('drafts') || '{}');
const saveDrafts = (kept) => localStorage.setItem('drafts', JSON.stringify(kept));
const ownFields = (form) =>
  all('input, textarea, select', form).filter(
    (f) => f.name && !f.name.startsWith('_') && f.type !== 'hidden' && f.type !== 'password' && f.type !== 'file',
  );

function keepDraft(form) {
  const name = form.dataset.draft;
  const before = drafts()[name];
  if (before && !one('#summary')) restore(form, before.fields);
  form.addEventListener('input', () => {
    const fields = ownFields(form)
      .filter((f) => (f.type !== 'checkbox' && f.type !== 'radio') || f.checked)
      .map((f) => [f.name, f.value]);
    saveDrafts({ ...drafts(), [name]: { fields } });
  });
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
  const words = document.createElement('p');
  words.className = 'noted';
  words.textContent = 'What you typed here before is still there. ';
  const clear = document.createElement('button');
  clear.type = 'button';
  clear.className = 'plain';
  clear.textContent = 'Clear it';
  clear.onclick = () => {
    const { [form.dataset.draft]: _gone, ...rest } = drafts();
    saveDrafts(rest);
    location.reload();
  };
  words.append(clear);
  form.prepend(words);
  // What is drawn or worked out from the boxes follows what stands in them again.
  form.dispatchEvent(new Event('input'));
}

/** A draft that was sent is forgotten on the next page that isn't its own form shown again. */
function forgetSentDrafts() {
  const here = new Set(all('form[data-draft]').map((form) => form.dataset.draft));
  saveDrafts(
    Object.fromEntries(
      Object.entries(drafts())
        .filter(([name, draft]) => !draft.sent || here.has(name))
        .map(([name, draft]) => [name, { fields: draft.fields }]),
    ),
  );
}
