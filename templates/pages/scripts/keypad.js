// Calls all, one (begin).
/* a pad of digits for wet gloves; a plain number keypad with Enter works as well */
function addPad(form) {
  const input = form.elements[form.dataset.pad];
  if (matchMedia('(pointer: coarse)').matches) input.inputMode = 'none';
  for (const button of all('.pad button', form))
    button.onclick = () => {
      const key = button.textContent;
      input.value = key === '⌫' ? input.value.slice(0, -1) : input.value + key;
    };
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
