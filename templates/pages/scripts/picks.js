// Calls all, one (begin).
/* picked or typed, never both: picking empties the box, and typing clears the choice */
function keepOneOf(box) {
  const field = box.closest('.field');
  const picks = all('input[type="radio"]', field);
  box.addEventListener('input', () => {
    if (box.value === '') return;
    for (const pick of picks) pick.checked = pick.value === '';
  });
  for (const pick of picks)
    pick.addEventListener('change', () => {
      if (pick.value === '') return;
      box.value = '';
      // A container used before and one by kind and size replace each other.
      for (const other of picks)
        if (other.name.endsWith('~pick') !== pick.name.endsWith('~pick')) other.checked = other.value === '';
    });
}

/** Picks the newest record's values, without changing what was typed on the page. */
function pickTheSame(link) {
  link.addEventListener('click', (event) => {
    event.preventDefault();
    const form = one('form[data-draft]');
    for (const [name, value] of Object.entries(JSON.parse(link.dataset.same)))
      for (const pick of all(`input[name="${name}~pick"]`, form))
        if (pick.value === value && !pick.checked) pick.click();
  });
}
