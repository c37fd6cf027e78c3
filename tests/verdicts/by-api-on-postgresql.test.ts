import { postgres } from '../support/engines.js';
import { walkCases } from './walk-cases.js';

// All cases run by the API on SQLite. The rules don't know the engine; each form of each field is stored on both.
walkCases('API', postgres(), { oneIn: 4, eachForm: true });
