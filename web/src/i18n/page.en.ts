// Words of the desk side of the page, English. The other languages have the same keys: the compiler says which are missing.
export const page = {
  jobs: 'Jobs',
  no_jobs: 'No job yet',
  loading: 'Loading',
} as const;
