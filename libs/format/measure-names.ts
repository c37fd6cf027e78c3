/** The units a sugarhouse chooses from, as a form names them; by the value that is stored. */
export const measureNames: Readonly<Record<string, string>> = { F: '°F', C: '°C', gal: 'gallons', L: 'litres' };
