import type { Hono } from 'hono';
import { Problem } from '../problem.ts';
import { openRejects, receiveUpload, sweepSorting, sweepUploads } from '../store/index.ts';
import { uploadAnswer } from './contract.ts';
import type { Office } from './desk.ts';

/** The one way in for a file that is too long for JSON, and the way out for the lines of it that were rejected. */

export const largestUpload = 512 * 1024 * 1024;
const longestKept_ms = 12 * 3_600_000;

/** What an earlier start left behind. A call from the shell may run beside a window, and leaves its files alone. */
export function sweepAtStart(office: Office): void {
  const { dataFolder, door } = office.options;
  if (door === 'call') return;
  sweepUploads(dataFolder);
  // A file that is being sorted beside is read by its handle and does not need its name.
  sweepSorting(dataFolder, Number.POSITIVE_INFINITY);
}

/**
 * `POST /api/uploads?name=FILE` with the bytes as body (content-type application/octet-stream, which no other site's form
 * can send) answers `{uploadId, bytes}`. `GET /api/rejects/NAME` answers a file of rejected lines.
 */
export function serveUploads(app: Hono, office: Office): void {
  const { options } = office;
  app.post('/api/uploads', async (context) => {
    if (!/^application\/octet-stream\b/i.test(context.req.header('content-type') ?? ''))
      throw new Problem('bad-input', 'A file is sent as content-type: application/octet-stream.', {
        field: 'content-type',
      });
    const told = Number(context.req.header('content-length') ?? 0);
    if (told > largestUpload)
      throw new Problem('too-large', `A file may have ${largestUpload / 1024 / 1024} MiB at most.`);
    const nowMs = options.clock().ms;
    sweepUploads(options.dataFolder, nowMs - longestKept_ms);
    const uploadId = options.newId();
    const name = (context.req.query('name') ?? '').trim().slice(0, 200) || 'uploaded file';
    const bytes = await receiveUpload(
      options.dataFolder,
      { id: uploadId, name, nowMs, most: largestUpload },
      context.req.raw.body,
    );
    return Response.json(uploadAnswer.parse({ uploadId, bytes }), {
      headers: { 'cache-control': 'no-store' },
    });
  });
  app.get('/api/rejects/:name', (context) => {
    const name = context.req.param('name');
    return new Response(openRejects(options.dataFolder, name), {
      headers: {
        'content-type': 'text/csv; charset=utf-8',
        'content-disposition': `attachment; filename="${name}"`,
        'cache-control': 'no-store',
      },
    });
  });
}
