// Every finding's title and what to do in Spanish. The server's sentence with the numbers stays English beneath.
import { designFindings } from './findings_design.es';
import { useFindings } from './findings_use.es';
import { worksFindings } from './findings_works.es';

/** By the finding's id: title, what to do. */
export type FindingWords = Record<string, readonly [title: string, todo: string]>;

export const findingsEs: FindingWords = { ...designFindings, ...worksFindings, ...useFindings };
