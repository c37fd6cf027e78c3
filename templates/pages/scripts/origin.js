// Calls nothing.
/* the book, sugarhouse and person this page was drawn for: what was typed for one is not sent to another */
function origin() {
  const { book, house, person } = document.body.dataset;
  return book ? { book, house, person } : undefined;
}

/** A storage key of its own for each book and person, since the browser's storage is shared on this device. */
function ownName(name) {
  const here = origin();
  return here ? `${here.book} ${here.house} ${here.person} ${name}` : name;
}
