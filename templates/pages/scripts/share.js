// Shares a link: through the device's own share sheet if it has one, else by the clipboard. Without either, or without
// script, the button stays hidden and the link can be copied by hand.
for (const button of document.querySelectorAll('[data-share]')) {
  const url = button.dataset.share;
  const copies = navigator.clipboard !== undefined;
  if (!navigator.share && !copies) continue;
  button.hidden = false;
  if (!navigator.share) button.textContent = 'Copy the link';
  button.addEventListener('click', async () => {
    try {
      if (navigator.share) await navigator.share({ url });
      else {
        await navigator.clipboard.writeText(url);
        button.textContent = 'Copied';
      }
    } catch {
      // Closed without sharing: nothing to report.
    }
  });
}
