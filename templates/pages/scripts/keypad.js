// Calls all, one (begin).
/* a keypad of digits for wet gloves; a plain number keyboard with Enter works as well */
function addPad(form) {
  const input = form.elements[form.dataset.pad];
  if (matchMedia('(pointer: coarse)').matches) input.inputMode = 'none';
  for (const button of all('.pad button', form))
    button.onclick = () => {
      const key = button.textContent;
      input.value = key === '⌫' ? input.value.slice(0, -1) : input.value + key;
    };
  // A fragment in the address takes the focus away when the page is drawn, however late: it is set again until the
  // person touches the page.
  let isMoved = false;
  for (const hand of ['pointerdown', 'keydown'])
    addEventListener(hand, () => (isMoved = true), { capture: true, once: true });
  const toBox = () => {
    if (isMoved || !input.autofocus || one('#summary') || document.activeElement !== document.body) return;
    input.focus({ preventScroll: true });
  };
  toBox();
  input.addEventListener('blur', () => setTimeout(toBox));
  addEventListener('load', () => setTimeout(toBox));
  document.addEventListener('keydown', (event) => {
    const at = document.activeElement;
    if (event.ctrlKey || event.altKey || event.metaKey || /^(INPUT|TEXTAREA|SELECT)$/.test(at?.tagName ?? '')) return;
    if (/^[0-9.]$/.test(event.key)) input.focus({ preventScroll: true });
  });
}
