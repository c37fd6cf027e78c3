import { sqlite } from '../support/engines.js';
import { walkCases } from './walk-cases.js';

// What a form posts is judged as by the API: here each field is posted in each form of text that a case enters.
walkCases('page', sqlite(), { oneIn: 8, eachForm: true });
