import type { Type } from '@nestjs/common';
import { GuestController } from './door/guest-controller.js';
import { PracticeController } from './door/practice-controller.js';
import { SetUpController } from './door/set-up-controller.js';
import { SignInController } from './door/sign-in-controller.js';
import { HealthController } from './health/health-controller.js';
import { TodayController } from './today/today-controller.js';
import { SapController } from './sap/sap-controller.js';
import { BoilsController } from './boils/boils-controller.js';
import { PacksController } from './packs/packs-controller.js';
import { LotsController } from './lots/lots-controller.js';

/** Every controller there is; a screen is a line here and a folder beside this file. */
export const screens: readonly Type<unknown>[] = [
  HealthController,
  SetUpController,
  SignInController,
  GuestController,
  PracticeController,
  TodayController,
  SapController,
  BoilsController,
  PacksController,
  LotsController,
];
