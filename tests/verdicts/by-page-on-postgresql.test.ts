import { postgres } from '../support/engines.js';
import { walkCases } from './walk-cases.js';

walkCases('page', postgres());
