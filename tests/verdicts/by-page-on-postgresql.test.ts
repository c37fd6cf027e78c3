import { postgres } from '../support/engines.js';
import { walkCases } from './walk-cases.js';

// Forms are read alike on both engines: this tests the two together.
walkCases('page', postgres(), { oneIn: 14 });
