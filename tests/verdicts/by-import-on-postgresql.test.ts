import { postgres } from '../support/engines.js';
import { walkCases } from './walk-cases.js';

// Files are read alike on both engines: this tests the two together.
walkCases('import', postgres(), { oneIn: 16 });
