// Queues an entry on this device, with its own time, while the server is unreachable.
function localMoment(minutesAgo) {
  const at = new Date(Date.now() - minutesAgo * 60000);
  const two = (n) => String(Math.abs(n)).padStart(2, '0');
  const offset = -at.getTimezoneOffset();
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}T${two(at.getHours())}:${two(at.getMinutes())}:${two(at.getSeconds())}${offset < 0 ? '-' : '+'}${two(Math.trunc(offset / 60))}:${two(offset % 60)}`;
}

async function queueEntry(form) {
  const fields = [...new FormData(form)];
  const body = new URLSearchParams(fields.filter(([, value]) => typeof value === 'string'));
  const photo = fields.find(([, value]) => typeof value !== 'string' && value.size > 0)?.[1];
  for (const name of [...body.keys()].filter((each) => each.endsWith('~ago'))) {
    const field = name.slice(0, -4);
    const ago = body.get(name);
    if (!body.get(field) && ago !== 'other') body.set(field, localMoment(ago === 'now' ? 0 : Number(ago)));
  }
  if (body.has('ago')) body.set('takenAt', localMoment(Number(body.get('ago')) || 0));
  body.delete('ago');
  // It is sent later, with its own time and nobody to answer a question, so it only adds and never overwrites.
  body.delete('_seen');
  body.delete('_phone');
  const entry = {
    action: form.getAttribute('action'),
    body: body.toString(),
    where: form.dataset.where ?? document.body.dataset.where,
    ...(photo ? { photo } : {}),
  };
  await inQueue('readwrite', (entries) => entries.add(entry));
  form.elements._once.value = [...crypto.getRandomValues(new Uint8Array(16))]
    .map((byte) => byte.toString(16).padStart(2, '0'))
    .join('');
  if (form.dataset.pad) showQueuedReading(form, body);
  const tally = one('[data-tally]', form);
  if (tally?.value) tally.dataset.soFar = tally.value;
  form.reset();
  if (form.dataset.draft) deleteDraft(draftName(form));
  await showQueued();
}

/** An entry made for another book may also stay on this device until that book is open again. */
function offerToQueue(form) {
  const button = document.createElement('button');
  Object.assign(button, { type: 'button', className: 'quiet', textContent: 'Keep it on this device until then' });
  button.onclick = async () => {
    deleteDraft(sentName(form));
    await queueEntry(form);
    form.remove();
  };
  form.append(' ', button);
}

/** The server's limit, in the unit of the reading; the server judges again when it receives it. */
function showQueuedReading(form, body) {
  const degrees = Number(body.get('temperature'));
  const unit = body.get('temperature~unit');
  if (!Number.isFinite(degrees)) return;
  const low = degrees < Number(unit === 'C' ? form.dataset.coldC : form.dataset.coldF);
  const inJar = one('[data-tally]', form);
  const message = document.createElement('p');
  message.setAttribute('role', 'status');
  message.innerHTML =
    '<span class="reading thumb"></span> <span class="verdict"></span><span class="limit">kept on this device, not in the book yet</span>';
  one('.reading', message).textContent = `${degrees} °${unit}`;
  if (!inJar) one('.verdict', message).remove();
  else one('.verdict', message).textContent = low ? 'TOO COLD' : 'hot enough';
  one('.verdict', message)?.classList.add(low ? 'stops' : 'passes');
  form.before(message);
}
