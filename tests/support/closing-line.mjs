/** One plain line at the end of a run, for whoever reads the log: how many tests passed, failed and were skipped. */
export default class ClosingLine {
  onRunComplete(
    _contexts,
    { numPassedTests, numFailedTests, numPendingTests, numTodoTests, numRuntimeErrorTestSuites },
  ) {
    const failed = numFailedTests + numRuntimeErrorTestSuites;
    console.log(`${numPassedTests} passed, ${failed} failed, ${numPendingTests + numTodoTests} skipped`);
  }
}
