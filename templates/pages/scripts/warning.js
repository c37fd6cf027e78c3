// Calls nothing; sending, jar-counter and begin call it.
/* Warns by sound and vibration: near the finishing point, of a cold jar, or when a jar is due to be read. A browser
   lets a page sound only once it was touched, so such a reading warns as it is sent, and a page that opens with a
   warning repeats it at the first touch. */
let audio;
function soundWarning(lastsMs = 0) {
  navigator.vibrate?.([400, 150, 400, 150, 400]);
  document.documentElement.dataset.warned = String(Number(document.documentElement.dataset.warned || 0) + 1);
  try {
    audio ??= new AudioContext();
    if (audio.state === 'running') playTones();
    else void audio.resume().then(playTones);
  } catch {
    // A browser without sound still shows the text.
  }
  return new Promise((done) => setTimeout(done, lastsMs));
}
function playTones() {
  for (const at of [0, 0.35, 0.7]) {
    const tone = audio.createOscillator();
    tone.frequency.value = 880;
    tone.connect(audio.destination);
    tone.start(audio.currentTime + at);
    tone.stop(audio.currentTime + at + 0.2);
  }
}

/** Whether a reading in the finishing point's unit is near it: shown before the server receives it. */
function isNearNow(form) {
  const { nearFrom, nearUnit } = form.dataset;
  if (nearFrom === undefined || form.elements['temperature~unit'].value !== nearUnit) return false;
  const degrees = Number(form.elements.temperature.value);
  return form.elements.temperature.value !== '' && degrees >= Number(nearFrom);
}

/** Whether a jar is under the limit for its unit: shown and heard while the syrup is hot and the lid is loose. */
function isTooCold(form) {
  const { coldF, coldC } = form.dataset;
  const degrees = form.elements.temperature?.value;
  const coldest = form.elements['temperature~unit']?.value === 'C' ? coldC : coldF;
  return coldest !== undefined && degrees !== '' && Number(degrees) < Number(coldest);
}

/** No new reading was recorded, but by the last ones the pan may be finished from now on. */
function waitForDraw(element) {
  const wait = Date.parse(element.dataset.nearAt) - Date.now();
  if (wait > 0 && wait < 86_400_000)
    setTimeout(() => {
      const message = document.createElement('p');
      message.className = 'why near';
      message.setAttribute('role', 'alert');
      message.textContent = 'By the last readings it may be there from now on. Test it, and do not leave the pan.';
      element.before(message);
      soundWarning();
    }, wait);
}
