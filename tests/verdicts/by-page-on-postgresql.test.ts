import { postgres } from '../support/engines.js';
import { walkCases } from './walk-cases.js';

// All cases come by the forms on SQLite and by the API on PostgreSQL: what is left is the two of them together.
walkCases('page', postgres(), { oneIn: 7 });
