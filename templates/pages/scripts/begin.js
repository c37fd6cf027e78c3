// Script that makes the pages easier to use; without it everything works by forms. The server joins this folder's files
// in one closure, so that they can call each other's functions. Each file first lists what it calls.
const all = (what, within = document) => [...within.querySelectorAll(what)];
const one = (what, within = document) => within.querySelector(what);

document.addEventListener('DOMContentLoaded', () => {
  one('#summary')?.focus();
  // Unfolds on a desktop what is folded on a phone, for screen readers too.
  if (matchMedia('(min-width: 68.75rem)').matches) for (const part of all('.at-desktop')) part.open = true;
  all('[data-since], [data-rest]').forEach(runClock);
  all('form[data-draft]').forEach(saveDraftAsTyped);
  all('form[data-pad]').forEach(addPad);
  all('[data-tally]').forEach(addTally);
  all('[data-due]').forEach(waitForCheck);
  all('[data-near-at]').forEach(waitForDraw);
  all('form[data-keep-now]').forEach(offerToQueue);
  all('[data-other]').forEach(keepOneOf);
  all('[data-same]').forEach(pickTheSame);
  all('form[method="post"]').forEach(sendOnce);
  if (one('[data-near]')) soundWarning();
  all('select[data-zone]').forEach(useOwnZone);
  keepUnitsTogether();
  all('[data-kept-page]').forEach(watchForConnection);
  addEventListener('beforeprint', openForPrint);
  forgetSentDrafts();
  void flush();
  setInterval(flush, 10000);
  addEventListener('online', flush);
  // Runs after everything that the person waits for.
  addEventListener('load', () => setTimeout(() => void cachePages().catch(() => {}), 1000));
});
