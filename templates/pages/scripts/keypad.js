// Calls one (begin).
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
