// Reads the QR code of a label from a picture or the live camera, here in the browser: no picture is sent anywhere.
'use strict';
(() => {
  for (const place of document.querySelectorAll('[data-photo]')) {
    const input = place.querySelector('input[type="file"]');
    const box = place.closest('form').elements[place.dataset.photo];
    const say = (words) => (place.querySelector('[role="status"]').textContent = words);
    input.addEventListener('change', async () => {
      const file = input.files[0];
      if (!file) return;
      say('Looking for the symbol …');
      const read = await readSymbol(file).catch(() => undefined);
      // The same picture may be chosen again later.
      input.value = '';
      if (read === undefined) return say('This picture can’t be opened here. Take it anew, or type the code.');
      if (read === '') return say('No symbol was read in this picture. Go nearer, hold still, or type the code.');
      take(read);
    });
    // Returns whether the camera may stop: a list of jars continues with the next.
    const take = (read) => {
      if (place.dataset.photo === 'q') return (find(box, read), true);
      const code = jarCodeIn(read);
      if (!code) return (say(`The symbol says “${read.slice(0, 200)}”, which is no jar’s code.`), false);
      const { isNew, inAll } = addCode(box, code);
      // A tray: a jar scanned twice counts once, and the total is shown to compare with the jars on the table.
      const count = inAll > 1 ? ` ${inAll} jars in the list.` : '';
      say(isNew ? `Read: ${code}.${count}` : `${code} is in the list already.${count}`);
      return box.name === 'jar';
    };
    // Browsers open the camera only over TLS and on the machine itself; elsewhere a photo is used.
    const button = place.querySelector('[data-camera]');
    if (!button) continue;
    if (window.isSecureContext && navigator.mediaDevices?.getUserMedia) offerCamera(button, say, take);
    else button.remove();
  }

  /* shows the camera's picture beside the box; the decoder looks at it five times a second until it reads something */
  function offerCamera(button, say, take) {
    const video = button.nextElementSibling;
    video.muted = true;
    let stream;
    let last = '';
    const stop = () => {
      for (const track of stream?.getTracks() ?? []) track.stop();
      stream = undefined;
      video.hidden = true;
      button.textContent = 'Scan with the camera';
    };
    button.addEventListener('click', async () => {
      if (stream) return stop();
      try {
        [stream] = await Promise.all([
          navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' }, audio: false }),
          decoder(),
        ]);
      } catch {
        stop();
        return say('The camera was not opened. Allow it in the browser’s settings, or take a photo.');
      }
      last = '';
      video.srcObject = stream;
      video.hidden = false;
      button.textContent = 'Stop the camera';
      say('Hold the label before the camera.');
      await video.play().catch(() => {});
      look();
    });
    // The camera is off while the page is hidden.
    document.addEventListener('visibilitychange', () => document.hidden && stop());
    const look = () => {
      if (!stream) return;
      const { data, width, height } = video.videoWidth ? scaled(video, 800) : { data: undefined };
      const found = data && window.jsQR(data, width, height)?.data;
      // The same label stays in front of the camera for a while: it is one jar.
      if (found && found !== last) {
        last = found;
        navigator.vibrate?.(60);
        if (take(found)) return stop();
      }
      setTimeout(look, 200);
    };
  }

  /* Find accepts any content and opens the page for it */
  function find(box, read) {
    box.value = read.slice(0, 200);
    box.form.requestSubmit();
  }

  /* adds to a list of jars; a jar already in the list is not added twice */
  function addCode(box, code) {
    const before = box.value.split(/[;\n]/).map((each) => each.trim());
    // Codes replace a count or an empty box.
    const codes = before.filter((each) => /[A-Z-]/i.test(each) || each.length > 6);
    const isNew = !codes.includes(code);
    const listed = box.name === 'jar' || codes.length === 0 ? [code] : isNew ? [...codes, code] : codes;
    box.value = listed.join('\n');
    // Jars listed by code are not counted as well.
    const counted = box.form.elements[box.name.replace(/~codes$/, '')];
    if (counted !== box && counted) counted.value = '';
    const folded = box.closest('details');
    if (folded) folded.open = true;
    if (box.rows) box.rows = Math.min(12, Math.max(box.rows, listed.length));
    box.dispatchEvent(new Event('input', { bubbles: true }));
    return { isNew, inAll: listed.length };
  }

  /* K7QM-3XWT from a link to the jar’s page, or from a label’s text without a link */
  function jarCodeIn(read) {
    const found =
      /\/(?:J|21)\/([0-9A-Z]{4})-?([0-9A-Z]{4})(?:[/?#]|$)/i.exec(read) ??
      /\b([0-9A-HJKMNP-TV-Z]{4})-([0-9A-HJKMNP-TV-Z]{4})\b/.exec(read);
    return found && `${found[1]}-${found[2]}`.toUpperCase();
  }

  /** The content of the QR code; empty where none was found. */
  async function readSymbol(file) {
    const [picture] = await Promise.all([createImageBitmap(file), decoder()]);
    // The smallest first, since it is quick; a label far away needs more pixels.
    for (const longest of [800, 1400, 2200]) {
      const { data, width, height } = scaled(picture, longest);
      const found = window.jsQR(data, width, height);
      if (found?.data) return found.data;
      if (longest >= Math.max(picture.width, picture.height)) break;
      // The page stays responsive between two attempts.
      await new Promise((on) => setTimeout(on));
    }
    return '';
  }

  function scaled(picture, longest) {
    const [wide, high] = [picture.videoWidth ?? picture.width, picture.videoHeight ?? picture.height];
    const scale = Math.min(1, longest / Math.max(wide, high));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(wide * scale));
    canvas.height = Math.max(1, Math.round(high * scale));
    const paper = canvas.getContext('2d', { willReadFrequently: true });
    // A transparent picture gets a white background.
    paper.fillStyle = 'white';
    paper.fillRect(0, 0, canvas.width, canvas.height);
    paper.drawImage(picture, 0, 0, canvas.width, canvas.height);
    return paper.getImageData(0, 0, canvas.width, canvas.height);
  }

  /* the decoder is large and seldom needed, so it is loaded when the first picture is chosen */
  let coming;
  function decoder() {
    coming ??= new Promise((resolve, reject) => {
      const script = document.createElement('script');
      script.src = '/assets/decoder/jsQR.js';
      script.onload = resolve;
      script.onerror = () => {
        coming = undefined;
        script.remove();
        reject(new Error('the decoder did not come'));
      };
      document.head.append(script);
    });
    return coming;
  }
})();
