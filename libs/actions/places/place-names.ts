/** The provinces by code, so that a province without rules of its own is still recognised. */
export const provinceNames: Readonly<Record<string, string>> = Object.fromEntries(
  (
    'AB Alberta,BC British Columbia,MB Manitoba,NB New Brunswick,NL Newfoundland and Labrador,NS Nova Scotia,' +
    'NT Northwest Territories,NU Nunavut,ON Ontario,PE Prince Edward Island,QC Quebec,SK Saskatchewan,YT Yukon'
  )
    .split(',')
    .map((entry) => [entry.slice(0, 2), entry.slice(3)]),
);

/** Other names for the two standards, normalised: lower case, single spaces, no accents. */
export const standardNames: Readonly<Record<string, string>> = {
  us: 'us-standard',
  usa: 'us-standard',
  'united states': 'us-standard',
  'us standard': 'us-standard',
  'us grade standard': 'us-standard',
  canada: 'canada',
  can: 'canada',
};
