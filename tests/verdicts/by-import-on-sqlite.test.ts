import { sqlite } from '../support/engines.js';
import { walkCases } from './walk-cases.js';

// What a file holds is judged as by the API: here each field is read in each form of text that a case enters.
walkCases('import', sqlite(), { oneIn: 16, eachForm: true });
