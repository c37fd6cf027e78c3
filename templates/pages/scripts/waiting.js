// Calls one (begin).
/* entries that wait, in the order in which they were written */
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

let flushing = false;
let doorShut = false;
async function flush() {
  if (flushing) return;
  flushing = true;
  try {
    const entries = (await waiting()).filter((entry) => !entry.refused);
    let sent = 0;
    doorShut = false;
    for (const entry of entries) {
      const answer = await fetch(entry.action, {
        method: 'POST',
        headers: { 'Content-Type': 'application/x-www-form-urlencoded' },
        body: entry.body,
      }).catch(() => undefined);
      if (!answer || answer.status >= 500 || answer.status === 429) break;
      // Led to the door and not to where a write is seen: it isn't in the book, and waits for who wrote it.
      doorShut = answer.status === 403 || new URL(answer.url).pathname === '/sign-in';
      if (doorShut) break;
      if (answer.redirected) await store('readwrite', (all) => all.delete(entry.n));
      else await store('readwrite', (all) => all.put({ ...entry, refused: true }));
      sent++;
    }
    if (sent > 0 && one('form[data-pad]') && (await waiting()).length === 0) location.reload();
  } finally {
    flushing = false;
    await tell();
  }
}

async function tell() {
  const place = one('#away');
  if (!place) return;
  const entries = await waiting();
  const refused = entries.filter((entry) => entry.refused);
  const open = entries.length - refused.length;
  const said = [];
  if (open > 0)
    said.push(
      `${open} ${open === 1 ? 'entry is' : 'entries are'} kept on this device and not yet in the book. Leave this page open; ${open === 1 ? 'it goes' : 'they go'} in when the server is back.`,
    );
  if (doorShut && open > 0) said.push('Sign in again to send it.');
  if (refused.length > 0) said.push(`The book did not take ${refused.length}: `);
  place.textContent = said.join(' ');
  for (const entry of refused) {
    const line = document.createElement('span');
    line.textContent = [...new URLSearchParams(entry.body)]
      .filter(([name, value]) => value && !name.startsWith('_') && !name.includes('~'))
      .map(([name, value]) => `${name} ${value}`)
      .join(', ');
    const drop = document.createElement('button');
    drop.type = 'button';
    drop.className = 'plain';
    drop.textContent = 'I have written it down';
    drop.onclick = async () => {
      await store('readwrite', (all) => all.delete(entry.n));
      await tell();
    };
    place.append(line, ' ', drop);
  }
}
