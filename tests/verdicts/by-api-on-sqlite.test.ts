import { sqlite } from '../support/engines.js';
import { oneDoorCases } from './one-door-cases.js';
import { walkCases } from './walk-cases.js';

walkCases('API', sqlite(), { more: oneDoorCases });
