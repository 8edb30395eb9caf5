/** What a condition says, in one language. */
export interface ConditionText {
  readonly title: string;
  /** An alarm in one line; {subject} stands for what it is about, {node} for a node or the gateway. */
  readonly headline: string;
  readonly cause: string;
  readonly consequence: string;
  /** What to do first. */
  readonly response: string;
  /** What is left to look at once it is over: nothing that is urgent only while it stands. */
  readonly after: string;
}
