import type { Type } from '@nestjs/common';
import { GuestController } from './door/guest-controller.js';
import { PracticeController } from './door/practice-controller.js';
import { SetUpController } from './door/set-up-controller.js';
import { SignInController } from './door/sign-in-controller.js';
import { HealthController } from './health/health-controller.js';
import { OwnPasswordController } from './people/own-password-controller.js';
import { PeopleController } from './people/people-controller.js';
import { TodayController } from './today/today-controller.js';
import { SapController } from './sap/sap-controller.js';
import { BoilsController } from './boils/boils-controller.js';
import { PacksController } from './packs/packs-controller.js';
import { LotsController } from './lots/lots-controller.js';
import { UseUpController } from './lots/use-up-controller.js';
import { SentController } from './sent/sent-controller.js';
import { EntriesController } from './entries/entries-controller.js';
import { TraceController } from './trace/trace-controller.js';
import { LabelsController } from './label-sheets/labels-controller.js';
import { FindController } from './find/find-controller.js';
import { ReadingController } from './reading/reading-controller.js';
import { ReckonController } from './reckon/reckon-controller.js';
import { SeasonController } from './season/season-controller.js';
import { RecordController } from './record/record-controller.js';
import { SideController } from './side/side-controller.js';
import { HouseController } from './house/house-controller.js';
import { YouController } from './you/you-controller.js';
import { FilesController } from './files/files-controller.js';
import { HousesController } from './houses/houses-controller.js';
import { StocksController } from './stocks/stocks-controller.js';
import { SheetsController } from './sheets/sheets-controller.js';
import { CameBackController } from './came-back/came-back-controller.js';
import { ReportController } from './jar-page/report-controller.js';
import { PractiseController } from './recall/practise-controller.js';
import { CallsController } from './recall/calls-controller.js';
import { RecallController } from './recall/recall-controller.js';

/** Every controller there is; a screen is a line here and a folder beside this file. */
export const screens: readonly Type<unknown>[] = [
  HealthController,
  SetUpController,
  SignInController,
  GuestController,
  PracticeController,
  PeopleController,
  OwnPasswordController,
  TodayController,
  SapController,
  BoilsController,
  PacksController,
  LotsController,
  UseUpController,
  SentController,
  EntriesController,
  TraceController,
  LabelsController,
  StocksController,
  FindController,
  ReadingController,
  ReckonController,
  SeasonController,
  RecordController,
  SideController,
  HouseController,
  YouController,
  FilesController,
  SheetsController,
  HousesController,
  CameBackController,
  ReportController,
  RecallController,
  CallsController,
  PractiseController,
];
