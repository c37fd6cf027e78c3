export default async function afterRun() {
  await globalThis.boilbookRunEnds?.();
}
