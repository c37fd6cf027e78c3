import type { Type } from '@nestjs/common';
import { HealthController } from './health/health-controller.js';

/** Every controller there is, the API's first; a screen is a line here and a folder beside this file. */
export const screens: readonly Type<unknown>[] = [HealthController];
