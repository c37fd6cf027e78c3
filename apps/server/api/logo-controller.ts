import { Body, Controller, Post } from '@nestjs/common';
import { z } from 'zod';
import { rights } from '#libs/actions/accounts/rights.js';
import { removeLogo, saveLogo } from '#libs/actions/labels/logo.js';
import type { Refusal } from '#libs/actions/record/problem.js';
import { RequireRole } from '../http/access.js';
import { parseWith } from '../http/parse-with.js';
import { CurrentPrincipal, type Principal } from '../http/principal.js';
import { type ApiSaved, apiSaved } from '../http/responses.js';
import { Describe } from './operation.js';

const logoBody = z
  .strictObject({
    file: z.base64().max(800_000).describe('An SVG of plain shapes or a PNG, 512 KiB at most, as base64'),
  })
  .meta({ id: 'Logo' });
const logoAnswer = z
  .object({ kind: z.enum(['svg', 'png']), widthPx: z.int(), heightPx: z.int() })
  .meta({ id: 'LogoKept', description: 'The drawing as stored: redrawn from the file, without its margins' });
const noLogo = z.object({ logo: z.null() }).meta({ id: 'NoLogo' });

@Controller('api/logo')
export class LogoApi {
  @Post()
  @RequireRole(rights.house)
  @Describe({
    summary: 'Puts the maker’s drawing or logo on labels; it is redrawn from the file before it is stored',
    body: logoBody,
    bodyExample: { file: exampleFile() },
    answers: logoAnswer,
    writes: true,
  })
  async save(
    @CurrentPrincipal() principal: Principal,
    @Body(parseWith(logoBody)) { file }: z.infer<typeof logoBody>,
  ): Promise<ApiSaved | Refusal> {
    const saved = await saveLogo(principal.book, principal.writeContext, Buffer.from(file, 'base64'));
    if ('problem' in saved) return saved;
    const { kind, widthPx, heightPx } = saved.logo;
    return apiSaved('/house/logo', { kind, widthPx, heightPx });
  }

  @Post('remove')
  @RequireRole(rights.house)
  @Describe({ summary: 'Removes the drawing from labels', answers: noLogo, writes: true })
  async remove(@CurrentPrincipal() principal: Principal): Promise<ApiSaved> {
    await removeLogo(principal.book, principal.writeContext);
    return apiSaved('/house/logo', { logo: null }, 'same');
  }
}

function exampleFile(): string {
  const svg =
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 20"><path d="M2 2h16v16h-16z"/><circle cx="30" cy="10" r="4"/></svg>';
  return Buffer.from(svg.replace('0 0 20 20', '0 0 40 20')).toString('base64');
}
