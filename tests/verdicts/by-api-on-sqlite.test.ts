import { sqlite } from '../support/engines.js';
import { singleChannelCases } from './single-channel-cases.js';
import { textCases } from './text-cases.js';
import { walkCases } from './walk-cases.js';

walkCases('API', sqlite(), { more: [...singleChannelCases, ...textCases] });
