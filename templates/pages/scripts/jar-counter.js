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
    const check = one('[data-at-jar]');
    if (check && Number(input.value) >= Number(check.dataset.atJar)) callForCheck(check);
  };
  const oneMore = () => {
    input.value = String(Math.max(Number(input.value) || 0, soFar()) + 1);
    remember();
  };
  one('.one-more', input.parentElement).onclick = oneMore;
  input.addEventListener('input', remember);
  document.addEventListener('keydown', (event) => {
    if (event.key !== '+') return;
    event.preventDefault();
    oneMore();
  });
  remember();
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
