// Small helps over plain pages; without this file everything works by forms.
'use strict';
(() => {
  const all = (what, within = document) => [...within.querySelectorAll(what)];
  const one = (what, within = document) => within.querySelector(what);

  document.addEventListener('DOMContentLoaded', () => {
    one('#summary')?.focus();
    all('[data-since], [data-rest]').forEach(runClock);
    all('form[data-draft]').forEach(keepDraft);
    all('form[data-pad]').forEach(addPad);
    all('[data-tally]').forEach(addTally);
    all('[data-due]').forEach(waitForCheck);
    all('[data-near-at]').forEach(waitForDraw);
    all('form[method="post"]').forEach(sendWithCare);
    if (one('[data-near]')) warn();
    all('input[data-zone]').forEach(useOwnZone);
    forgetSentDrafts();
    void flush();
    setInterval(flush, 10000);
    addEventListener('online', flush);
  });

  /** Where nobody said a zone yet, the phone in the sugarhouse knows it better than a small board that was never told. */
  function useOwnZone(box) {
    const own = Intl.DateTimeFormat().resolvedOptions().timeZone;
    if (own && own !== 'UTC' && box.value === box.dataset.zone) box.value = own;
  }

  // What this device takes the time to be: before its first entry the server holds its own clock against it.
  document.addEventListener(
    'submit',
    ({ target: form }) => {
      if (form.method !== 'post') return;
      const told =
        form.elements._phone ??
        form.appendChild(Object.assign(document.createElement('input'), { type: 'hidden', name: '_phone' }));
      told.value = new Date().toISOString();
    },
    true,
  );

  /* clocks that run */
  function runClock(element) {
    const from = Date.parse(element.dataset.since || element.dataset.rest);
    const shown = document.createElement('span');
    shown.className = 'clock';
    // What the server worked out when the page was drawn is told by the clock from here on.
    if (element.firstChild?.nodeType === Node.TEXT_NODE)
      element.firstChild.data = element.firstChild.data.replace(/^(On the fire since [^,]+), .*$/, '$1.');
    element.append(' ', shown);
    const tick = () => {
      const seconds = Math.max(0, Math.floor((Date.now() - from) / 1000));
      const minutes = Math.floor(seconds / 60);
      const hours = minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
      const words = 'seconds' in element.dataset ? `${hours} ${seconds % 60} s` : hours;
      shown.textContent = 'ago' in element.dataset ? `(${words} ago)` : `${words} so far.`;
    };
    tick();
    setInterval(tick, 'seconds' in element.dataset ? 1000 : 15000);
  }

  /*
   * Near the finishing point, or a jar to be read: felt, and heard. A browser lets a page speak up only once it was
   * touched, so a reading that is near warns as it is sent, and a page that opens with a warning says it again at the
   * first touch.
   */
  let voice;
  function warn(lastsMs = 0) {
    navigator.vibrate?.([400, 150, 400, 150, 400]);
    document.documentElement.dataset.warned = String(Number(document.documentElement.dataset.warned || 0) + 1);
    try {
      voice ??= new AudioContext();
      if (voice.state === 'running') sound();
      else void voice.resume().then(sound);
    } catch {
      // A browser without sound shows the words all the same.
    }
    return new Promise((done) => setTimeout(done, lastsMs));
  }
  function sound() {
    for (const at of [0, 0.35, 0.7]) {
      const tone = voice.createOscillator();
      tone.frequency.value = 880;
      tone.connect(voice.destination);
      tone.start(voice.currentTime + at);
      tone.stop(voice.currentTime + at + 0.2);
    }
  }

  /** A reading typed in the unit of the finishing point and near it: told before the server has it. */
  function isNearNow(form) {
    const { nearFrom, nearUnit } = form.dataset;
    if (nearFrom === undefined || form.elements['temperature~unit'].value !== nearUnit) return false;
    const degrees = Number(form.elements.temperature.value);
    return form.elements.temperature.value !== '' && degrees >= Number(nearFrom);
  }

  /** Nobody has written a reading, but by the last ones the pan may be there from now on. */
  function waitForDraw(element) {
    const wait = Date.parse(element.dataset.nearAt) - Date.now();
    if (wait > 0 && wait < 86_400_000)
      setTimeout(() => {
        const words = document.createElement('p');
        words.className = 'why near';
        words.setAttribute('role', 'alert');
        words.textContent = 'By the last readings it may be there from now on. Test it, and do not leave the pan.';
        element.before(words);
        warn();
      }, wait);
  }

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

  /* a pad of digits for wet gloves; a plain number keypad with Enter works as well */
  function addPad(form) {
    const input = form.elements[form.dataset.pad];
    if (matchMedia('(pointer: coarse)').matches) input.inputMode = 'none';
    const pad = document.createElement('div');
    pad.className = 'pad';
    pad.setAttribute('role', 'group');
    pad.setAttribute('aria-label', 'Digits');
    for (const key of ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', '⌫']) {
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = key;
      if (key === '⌫') button.setAttribute('aria-label', 'Take the last digit back');
      if (key === '.') button.setAttribute('aria-label', 'Point');
      button.onclick = () => {
        input.value = key === '⌫' ? input.value.slice(0, -1) : input.value + key;
      };
      pad.append(button);
    }
    input.closest('.field').append(pad);
    // A fragment in the address keeps a browser from doing this by itself, and takes the focus away while it loads.
    addEventListener('load', () =>
      setTimeout(() => !input.autofocus || one('#summary') || input.focus({ preventScroll: true })),
    );
    document.addEventListener('keydown', (event) => {
      const at = document.activeElement;
      if (event.ctrlKey || event.altKey || event.metaKey || /^(INPUT|TEXTAREA|SELECT)$/.test(at?.tagName ?? '')) return;
      if (/^[0-9.]$/.test(event.key)) input.focus({ preventScroll: true });
    });
  }

  /* jars counted as they are capped: a tap each, or + on a keypad; the count is the writer's own until a reading sends it */
  function addTally(input) {
    const kept = `jars-${input.dataset.tally}`;
    const soFar = () => Number(input.dataset.soFar);
    const before = Number(localStorage.getItem(kept));
    if (before > soFar() && !input.value) input.value = String(before);
    if (before <= soFar()) localStorage.removeItem(kept);
    const button = document.createElement('button');
    button.type = 'button';
    button.className = 'quiet one-more';
    button.textContent = '+1 jar';
    const remember = () => {
      if (Number(input.value) > soFar()) localStorage.setItem(kept, input.value);
      else localStorage.removeItem(kept);
      const check = one('[data-at-jar]');
      if (check && Number(input.value) >= Number(check.dataset.atJar)) callForCheck(check);
    };
    const oneMore = () => {
      input.value = String(Math.max(Number(input.value) || 0, soFar()) + 1);
      remember();
    };
    button.onclick = oneMore;
    input.addEventListener('input', remember);
    input.after(button);
    document.addEventListener('keydown', (event) => {
      if (event.key !== '+') return;
      event.preventDefault();
      oneMore();
    });
    remember();
  }

  /* the next jar to be read: when its time comes, it is said, heard and felt */
  function waitForCheck(check) {
    const wait = Date.parse(check.dataset.due) - Date.now();
    if (wait > 0 && wait < 86_400_000) setTimeout(() => callForCheck(check), wait);
  }
  function callForCheck(check) {
    if (check.classList.contains('late')) return;
    check.classList.add('late');
    one('b', check).textContent = 'Read a jar now.';
    warn();
  }

  /* sending: once; and where the server is out of reach the entry waits here, with its own time */
  function sendWithCare(form) {
    let under = false;
    form.addEventListener('submit', async (event) => {
      if (event.submitter?.getAttribute('formmethod') === 'get') return;
      event.preventDefault();
      if (under) return;
      under = true;
      // One form may hold several deeds, each with an address of its own.
      const own = event.submitter?.getAttribute('formaction');
      if (own) form.setAttribute('action', own);
      if (isNearNow(form)) await warn(1200);
      const keeps = form.dataset.draft || form.dataset.pad || 'keep' in form.dataset;
      if (!keeps || ((await reachable()) && (await waiting()).length === 0)) return send(form);
      if (await reachable()) {
        await flush();
        return send(form);
      }
      await keep(form);
      under = false;
    });
    // A file that comes down leaves the page where it is.
    addEventListener('pageshow', () => (under = false));
    form.addEventListener('submit', () => setTimeout(() => (under = false), 4000));
  }

  function send(form) {
    const name = form.dataset.draft;
    if (name && drafts()[name]) saveDrafts({ ...drafts(), [name]: { ...drafts()[name], sent: true } });
    form.submit();
  }

  const reachable = () =>
    fetch('/healthz', { cache: 'no-store', signal: AbortSignal.timeout(3000) }).then(
      (answer) => answer.ok,
      () => false,
    );

  function localMoment(minutesAgo) {
    const at = new Date(Date.now() - minutesAgo * 60000);
    const two = (n) => String(Math.abs(n)).padStart(2, '0');
    const offset = -at.getTimezoneOffset();
    return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}T${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}${offset < 0 ? '-' : '+'}${two(Math.trunc(offset / 60))}:${two(offset % 60)}`;
  }

  async function keep(form) {
    const body = new URLSearchParams(new FormData(form));
    for (const name of [...body.keys()].filter((each) => each.endsWith('~ago'))) {
      const field = name.slice(0, -4);
      const ago = body.get(name);
      if (!body.get(field) && ago !== 'other') body.set(field, localMoment(ago === 'now' ? 0 : Number(ago)));
    }
    if (body.has('ago')) body.set('takenAt', localMoment(Number(body.get('ago')) || 0));
    body.delete('ago');
    // It goes in later, with its own time, and nobody is there to be asked: it adds, and never writes over anything.
    body.delete('_seen');
    body.delete('_phone');
    await store('readwrite', (entries) => entries.add({ action: form.getAttribute('action'), body: body.toString() }));
    form.elements._once.value = [...crypto.getRandomValues(new Uint8Array(16))]
      .map((byte) => byte.toString(16).padStart(2, '0'))
      .join('');
    if (form.dataset.pad) judgeHere(form, body);
    const tally = one('[data-tally]', form);
    if (tally?.value) tally.dataset.soFar = tally.value;
    form.reset();
    const name = form.dataset.draft;
    if (name) {
      const { [name]: _gone, ...rest } = drafts();
      saveDrafts(rest);
    }
    await tell();
  }

  /** The same limit as the book's, in the unit it was read in; the book judges again when it has the reading. */
  function judgeHere(form, body) {
    const degrees = Number(body.get('temperature'));
    const unit = body.get('temperature~unit');
    if (!Number.isFinite(degrees)) return;
    const low = degrees < (unit === 'C' ? 82 : 180);
    const inJar = one('[data-tally]', form);
    const words = document.createElement('p');
    words.setAttribute('role', 'status');
    words.innerHTML =
      '<span class="reading thumb"></span> <span class="verdict"></span><span class="limit">kept on this device, not in the book yet</span>';
    one('.reading', words).textContent = `${degrees} °${unit}`;
    if (!inJar) one('.verdict', words).remove();
    else one('.verdict', words).textContent = low ? 'TOO COLD' : 'hot enough';
    one('.verdict', words)?.classList.add(low ? 'stops' : 'passes');
    form.before(words);
  }

  /* entries that wait, in the order in which they were written */
  function store(mode, work) {
    return new Promise((resolve, reject) => {
      const opening = indexedDB.open('boilbook', 1);
      opening.onupgradeneeded = () =>
        opening.result.createObjectStore('waiting', { keyPath: 'n', autoIncrement: true });
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
})();
