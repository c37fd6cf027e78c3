// Calls nothing.
/* which book, sugarhouse and person this page was drawn for: what was typed for one is not sent to another */
function origin() {
  const { book, house, person } = document.body.dataset;
  return book ? { book, house, person } : undefined;
}

/** The name of a thing in the browser's own storage, which is one for every book and person on this device. */
function ownName(name) {
  const here = origin();
  return here ? `${here.book} ${here.house} ${here.person} ${name}` : name;
}
