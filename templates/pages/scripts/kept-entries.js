// Calls one (begin), origin (origin), store, waiting, madeFor, belongsHere, flush, held (waiting).
/* shows a message at the top of every page about entries that are queued on this device */
async function tell() {
  const place = one('#away');
  if (!place) return;
  const entries = await waiting();
  const own = entries.filter(belongsHere);
  const open = own.filter((entry) => !entry.refused).length;
  place.textContent = open > 0 ? [countWords(open), ...heldWords()].join(' ') : '';
  const refused = own.filter((entry) => entry.refused);
  if (refused.length > 0) place.append(` The book did not take ${refused.length}: `);
  for (const entry of refused)
    place.append(
      typedIn(entry),
      ' ',
      aButton('I have written it down', () => drop(entry)),
    );
  await tellUnsigned(
    place,
    entries.filter((entry) => !madeFor(entry)),
  );
  tellOthers(
    place,
    entries.filter((entry) => madeFor(entry) && !belongsHere(entry)),
  );
}

const countWords = (open) =>
  `${open} ${open === 1 ? 'entry is' : 'entries are'} kept on this device and not yet in the book. Leave this page open; ${open === 1 ? 'it goes' : 'they go'} in when the server is back.`;

function heldWords() {
  if (held === 'signed out') return ['Sign in again to send it.'];
  if (held === 'another book')
    return [
      `This page was opened for ${document.body.dataset.where}, and something else is open now. Go back to it to send them.`,
    ];
  return [];
}

/** Entries of an earlier version, without their book: a person decides, nothing is sent automatically. */
async function tellUnsigned(place, entries) {
  if (entries.length === 0) return;
  place.append(' Kept on this device before the program was updated, and it doesn’t say for which book or by whom: ');
  for (const entry of entries) {
    place.append(typedIn(entry), ' ');
    if (origin())
      place.append(
        aButton(`Send it to ${document.body.dataset.where}`, async () => {
          const body = new URLSearchParams(entry.body);
          for (const [name, value] of Object.entries(origin())) body.set(`_${name}`, value);
          await store('readwrite', (all) => all.put({ ...entry, body: body.toString(), refused: false }));
          await flush();
        }),
        ' ',
      );
    place.append(discardButton(entry), ' ');
  }
}

/** Entries of another person or book: they stay until that book is open again. Their content is shown on request. */
function tellOthers(place, entries) {
  const groups = new Map();
  for (const entry of entries) {
    const where = entry.where ?? `another book, as ${madeFor(entry).person}`;
    groups.set(where, [...(groups.get(where) ?? []), entry]);
  }
  for (const [where, some] of groups) {
    const words = document.createElement('span');
    words.textContent = ` ${some.length} ${some.length === 1 ? 'entry' : 'entries'} for ${where}: kept on this device until that is open here again. `;
    words.append(
      aButton('Show', () =>
        words.lastChild.replaceWith(...some.flatMap((each) => [typedIn(each), ' ', discardButton(each), ' '])),
      ),
    );
    place.append(words);
  }
}

function typedIn(entry) {
  const line = document.createElement('span');
  line.textContent = [...new URLSearchParams(entry.body)]
    .filter(([name, value]) => value && !name.startsWith('_') && !name.includes('~'))
    .map(([name, value]) => `${name} ${value}`)
    .join(', ');
  return line;
}

function discardButton(entry) {
  const button = aButton('Discard', () => {
    button.textContent = 'Discard for good';
    button.onclick = () => drop(entry);
  });
  return button;
}

async function drop(entry) {
  await store('readwrite', (all) => all.delete(entry.n));
  await tell();
}

const aButton = (label, onclick) =>
  Object.assign(document.createElement('button'), { type: 'button', className: 'plain', textContent: label, onclick });
