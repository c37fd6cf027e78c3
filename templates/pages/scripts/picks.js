// Calls all, one (begin).
/* picked or typed, never both: the box is emptied by a pick, and the pick taken back by typing */
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

/** Picks what the newest record has, and leaves alone what is typed on the page already. */
function pickTheSame(link) {
  link.addEventListener('click', (event) => {
    event.preventDefault();
    const form = one('form[data-draft]');
    for (const [name, value] of Object.entries(JSON.parse(link.dataset.same)))
      for (const pick of all(`input[name="${name}~pick"]`, form))
        if (pick.value === value && !pick.checked) pick.click();
  });
}
