// What is loaded for a Spanish page only.
export { findingsEs as findings } from './findings.es';
export { spanishProblem as problem } from './problems.es';
export { causeNames, choiceNames, spanish as sentence, spanishExpected as expected } from './said.es';
