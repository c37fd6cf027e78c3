// Time on this device: its zone at set-up, its clock sent with an entry, running clocks.
/** Until a zone is chosen, the phone's is more likely right than that of a server that was never configured. */
function useOwnZone(box) {
  const own = Intl.DateTimeFormat().resolvedOptions().timeZone;
  if (!own || own === 'UTC' || box.value !== box.dataset.zone) return;
  if (![...box.options].some((option) => option.value === own)) box.add(new Option(own, own));
  box.value = own;
}

// This device's time; the server compares its own clock with it before its first entry.
document.addEventListener(
  'submit',
  ({ target: form }) => {
    if (form.method !== 'post') return;
    const clockBox =
      form.elements._phone ??
      form.appendChild(Object.assign(document.createElement('input'), { type: 'hidden', name: '_phone' }));
    clockBox.value = new Date().toISOString();
  },
  true,
);

/* running clocks */
function runClock(element) {
  const from = Date.parse(element.dataset.since || element.dataset.rest);
  const shown = document.createElement('span');
  shown.className = 'clock';
  // The server's figure from when the page was drawn is continued by the device's clock.
  if (element.firstChild?.nodeType === Node.TEXT_NODE)
    element.firstChild.data = element.firstChild.data.replace(/^(Boiling since [^,]+), .*$/, '$1.');
  element.append(' ', shown);
  const tick = () => {
    const seconds = Math.max(0, Math.floor((Date.now() - from) / 1000));
    const minutes = Math.floor(seconds / 60);
    const hours = minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
    const text = 'seconds' in element.dataset ? `${hours} ${seconds % 60} s` : hours;
    shown.textContent = 'ago' in element.dataset ? `(${text} ago)` : `${text} so far.`;
  };
  tick();
  setInterval(tick, 'seconds' in element.dataset ? 1000 : 15000);
}
