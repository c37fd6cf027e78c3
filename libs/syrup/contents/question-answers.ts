/** A recorded answer to a question that a finding asked about a lot. */
export interface QuestionAnswer {
  /** The sentence of the finding that asked, as it was when somebody answered. */
  readonly question: string;
  /** `yes` or `no`. */
  readonly answer: string;
  /** Its sequence number in the log. */
  readonly seq: number;
}

/**
 * The newest answer to a question, among `answers` (oldest first), recorded after log entry `afterSeq`: an answer from
 * before the text that raises the question doesn’t count. Undefined where there is none.
 */
export const newestAnswer = (
  answers: readonly QuestionAnswer[],
  question: string,
  afterSeq = -Infinity,
): QuestionAnswer | undefined => answers.findLast((each) => each.question === question && each.seq > afterSeq);
