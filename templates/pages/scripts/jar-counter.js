// Calls one (begin), ownName (origin), soundWarning (warning).
/* counts jars as they are capped: one tap each, or + on a keyboard; the count is the writer's own until a reading sends
   it */
function addTally(input) {
  const storageKey = ownName(`jars-${input.dataset.tally}`);
  const soFar = () => Number(input.dataset.soFar);
  const before = Number(localStorage.getItem(storageKey));
  if (before > soFar() && !input.value) input.value = String(before);
  if (before <= soFar()) localStorage.removeItem(storageKey);
  const remember = () => {
    if (Number(input.value) > soFar()) localStorage.setItem(storageKey, input.value);
    else localStorage.removeItem(storageKey);
    nameBrokenJar(Number(input.value) > soFar() ? Number(input.value) + 1 : 0);
    const check = one('[data-at-jar]');
    if (check && Number(input.value) >= Number(check.dataset.atJar)) callForCheck(check);
  };
  const oneMore = () => {
    input.value = String(Math.max(Number(input.value) || 0, soFar()) + 1);
    remember();
  };
  one('.one-more', input.parentElement).onclick = oneMore;
  input.addEventListener('input', remember);
  // A reading kept on the device empties the box once the event has ended.
  input.form.addEventListener('reset', () => setTimeout(remember));
  document.addEventListener('keydown', (event) => {
    if (event.key !== '+') return;
    event.preventDefault();
    oneMore();
  });
  remember();
}

/* glass breaks at the jar after the last one counted; 0 while nobody counts: then any jar may hold splinters, so the
   number stays blank */
function nameBrokenJar(jar) {
  const number = one('[data-broken]');
  if (!number) return;
  number.value = jar || '';
  one('button', number.form).textContent = jar ? `Glass broke at jar ${jar}` : 'Glass broke';
}

/* the next jar to read: when its time comes, shows a message, sounds and vibrates */
function waitForCheck(check) {
  const wait = Date.parse(check.dataset.due) - Date.now();
  if (wait > 0 && wait < 86_400_000) setTimeout(() => callForCheck(check), wait);
}
function callForCheck(check) {
  if (check.classList.contains('late')) return;
  check.classList.add('late');
  one('b', check).textContent = 'Read a jar now.';
  soundWarning();
}
