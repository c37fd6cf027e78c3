// Calls one (begin), origin (origin), showQueued (kept-entries).
/* queued entries, in the order in which they were written */
function inQueue(mode, work) {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open('boilbook', 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore('waiting', { keyPath: 'n', autoIncrement: true });
    opening.onerror = () => reject(opening.error);
    opening.onsuccess = () => {
      const transaction = opening.result.transaction('waiting', mode);
      const request = work(transaction.objectStore('waiting'));
      transaction.oncomplete = () => {
        opening.result.close();
        resolve(request.result);
      };
      transaction.onerror = () => reject(transaction.error);
    };
  });
}
const queuedEntries = () => inQueue('readonly', (entries) => entries.getAll());

/** The book, sugarhouse and person an entry is for; undefined for one of an earlier version. */
function originOf(entry) {
  const fields = new URLSearchParams(entry.body);
  return fields.has('_book')
    ? { book: fields.get('_book'), house: fields.get('_house'), person: fields.get('_person') }
    : undefined;
}
function belongsHere(entry) {
  const [made, here] = [originOf(entry), origin()];
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
let waitReason = '';
async function flush() {
  if (flushing) return;
  flushing = true;
  try {
    const entries = (await queuedEntries()).filter((entry) => !entry.refused && belongsHere(entry));
    let sent = 0;
    waitReason = '';
    for (const entry of entries) {
      const answer = await fetch(entry.action, { method: 'POST', body: bodyOf(entry) }).catch(() => undefined);
      if (!answer || answer.status >= 500 || answer.status === 429) break;
      // Redirected to the sign-in page instead of the saved record: it was not saved, and waits until its writer signs
      // in.
      if (answer.status === 403 || new URL(answer.url).pathname === '/sign-in') waitReason = 'signed out';
      // This page was drawn before the present person signed in.
      if (answer.headers.has('Boilbook-Other-Book')) waitReason = 'another book';
      if (waitReason) break;
      if (answer.redirected) await inQueue('readwrite', (all) => all.delete(entry.n));
      else await inQueue('readwrite', (all) => all.put({ ...entry, refused: true }));
      sent++;
    }
    if (sent > 0 && one('form[data-pad]') && !(await queuedEntries()).some(belongsHere)) location.reload();
  } finally {
    flushing = false;
    await showQueued();
  }
}
