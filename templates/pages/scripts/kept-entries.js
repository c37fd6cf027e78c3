// Calls one (begin), origin (origin), inQueue, queuedEntries, originOf, belongsHere, flush, waitReason (waiting).
/* shows a message at the top of every page about entries that are queued on this device */
async function showQueued() {
  const place = one('#away');
  if (!place) return;
  const entries = await queuedEntries();
  const own = entries.filter(belongsHere);
  const open = own.filter((entry) => !entry.refused).length;
  place.textContent = open > 0 ? [countText(open), ...waitReasonText()].join(' ') : '';
  const refused = own.filter((entry) => entry.refused);
  if (refused.length > 0) place.append(` The book did not take ${refused.length}: `);
  for (const entry of refused)
    place.append(
      typedText(entry),
      ' ',
      newButton('I have written it down', () => discardEntry(entry)),
    );
  await showUnsigned(
    place,
    entries.filter((entry) => !originOf(entry)),
  );
  showOthers(
    place,
    entries.filter((entry) => originOf(entry) && !belongsHere(entry)),
  );
}

const countText = (open) =>
  `${open} ${open === 1 ? 'entry is' : 'entries are'} kept on this device and not yet in the book. Leave this page open; ${open === 1 ? 'it goes' : 'they go'} in when the server is back.`;

function waitReasonText() {
  if (waitReason === 'signed out') return ['Sign in again to send it.'];
  if (waitReason === 'another book')
    return [
      `This page was opened for ${document.body.dataset.where}, and something else is open now. Go back to it to send them.`,
    ];
  return [];
}

/** Entries of an earlier version, without their book: a person decides, nothing is sent automatically. */
async function showUnsigned(place, entries) {
  if (entries.length === 0) return;
  place.append(' Kept on this device before the program was updated, and it doesn’t say for which book or by whom: ');
  for (const entry of entries) {
    place.append(typedText(entry), ' ');
    if (origin())
      place.append(
        newButton(`Send it to ${document.body.dataset.where}`, async () => {
          const body = new URLSearchParams(entry.body);
          for (const [name, value] of Object.entries(origin())) body.set(`_${name}`, value);
          await inQueue('readwrite', (all) => all.put({ ...entry, body: body.toString(), refused: false }));
          await flush();
        }),
        ' ',
      );
    place.append(discardButton(entry), ' ');
  }
}

/** Entries of another person or book: they stay until that book is open again. Their content is shown on request. */
function showOthers(place, entries) {
  const groups = new Map();
  for (const entry of entries) {
    const where = entry.where ?? `another book, as ${originOf(entry).person}`;
    groups.set(where, [...(groups.get(where) ?? []), entry]);
  }
  for (const [where, group] of groups) {
    const message = document.createElement('span');
    message.textContent = ` ${group.length} ${group.length === 1 ? 'entry' : 'entries'} for ${where}: kept on this device until that is open here again. `;
    message.append(
      newButton('Show', () =>
        message.lastChild.replaceWith(...group.flatMap((each) => [typedText(each), ' ', discardButton(each), ' '])),
      ),
    );
    place.append(message);
  }
}

function typedText(entry) {
  const line = document.createElement('span');
  line.textContent = [...new URLSearchParams(entry.body)]
    .filter(([name, value]) => value && !name.startsWith('_') && !name.includes('~'))
    .map(([name, value]) => `${name} ${value}`)
    .join(', ');
  return line;
}

function discardButton(entry) {
  const button = newButton('Discard', () => {
    button.textContent = 'Discard for good';
    button.onclick = () => discardEntry(entry);
  });
  return button;
}

async function discardEntry(entry) {
  await inQueue('readwrite', (all) => all.delete(entry.n));
  await showQueued();
}

const newButton = (label, onclick) =>
  Object.assign(document.createElement('button'), { type: 'button', className: 'plain', textContent: label, onclick });
