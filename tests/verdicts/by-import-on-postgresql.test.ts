import { postgres } from '../support/engines.js';
import { walkCases } from './walk-cases.js';

// All cases run by files on SQLite and by the API on PostgreSQL: this tests the two together.
walkCases('import', postgres(), { oneIn: 8 });
