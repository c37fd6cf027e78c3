// Calls one (begin), origin (origin), tell (kept-entries).
/* queued entries, in the order in which they were written */
function store(mode, work) {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open('boilbook', 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore('waiting', { keyPath: 'n', autoIncrement: true });
    opening.onerror = () => reject(opening.error);
    opening.onsuccess = () => {
      const turn = opening.result.transaction('waiting', mode);
      const asked = work(turn.objectStore('waiting'));
      turn.oncomplete = () => {
        opening.result.close();
        resolve(asked.result);
      };
      turn.onerror = () => reject(turn.error);
    };
  });
}
const waiting = () => store('readonly', (entries) => entries.getAll());

/** The book, sugarhouse and person an entry is for; undefined for one of an earlier version. */
function madeFor(entry) {
  const fields = new URLSearchParams(entry.body);
  return fields.has('_book')
    ? { book: fields.get('_book'), house: fields.get('_house'), person: fields.get('_person') }
    : undefined;
}
function belongsHere(entry) {
  const [made, here] = [madeFor(entry), origin()];
  return Boolean(made && here) && made.book === here.book && made.house === here.house && made.person === here.person;
}

/** The body as the form itself would send it: multipart if it has a photo. */
function bodyOf(entry) {
  const fields = new URLSearchParams(entry.body);
  if (!entry.photo) return fields;
  const body = new FormData();
  for (const [name, value] of fields) body.append(name, value);
  body.append('photo', entry.photo, 'photo');
  return body;
}

let flushing = false;
/* why entries of this page wait though the server responds: nobody is signed in, or another book or person is */
let held = '';
async function flush() {
  if (flushing) return;
  flushing = true;
  try {
    const entries = (await waiting()).filter((entry) => !entry.refused && belongsHere(entry));
    let sent = 0;
    held = '';
    for (const entry of entries) {
      const answer = await fetch(entry.action, { method: 'POST', body: bodyOf(entry) }).catch(() => undefined);
      if (!answer || answer.status >= 500 || answer.status === 429) break;
      // Redirected to the sign-in page instead of the saved record: it was not saved, and waits until its writer signs
      // in.
      if (answer.status === 403 || new URL(answer.url).pathname === '/sign-in') held = 'signed out';
      // This page was drawn before the present person signed in.
      if (answer.headers.has('Boilbook-Other-Book')) held = 'another book';
      if (held) break;
      if (answer.redirected) await store('readwrite', (all) => all.delete(entry.n));
      else await store('readwrite', (all) => all.put({ ...entry, refused: true }));
      sent++;
    }
    if (sent > 0 && one('form[data-pad]') && !(await waiting()).some(belongsHere)) location.reload();
  } finally {
    flushing = false;
    await tell();
  }
}
