import { afterNewConcern, afterReading, refuseStatus, type Status } from '../job/index.ts';
import { Problem, quoted } from '../problem.ts';
import {
  advisoriesOfJobs,
  concernsOfJobs,
  countByStatus,
  insertAdvisory,
  insertApproval,
  insertReading,
  listJobs,
  settleAdvisory,
  undoReading,
  updateConcern,
  wasMade,
} from '../store/index.ts';
import { closeConcern, reopenConcern } from './closing.ts';
import { classifyComeback, markComeback } from './comebacks.ts';
import type { JobRow } from './contract.ts';
import type { Desk } from './desk.ts';
import type { Group } from './group.ts';
import { fromIso, isoOrNull, toIso } from './instants.ts';
import { cardOr404, changeCard, concernOf, openConcernOf } from './job-card.ts';
import { jobView } from './job-views.ts';
import { addConcern, keepMileage, openJob, recordReading } from './opening.ts';
import { askedOn, gateOf } from './quote-gate.ts';
import { benchOf, keepWhatIsShown } from './shown.ts';
import { symptomOr404, symptomTitle, titleOfModel } from './views.ts';

export const jobs = {
  'jobs.open': async (desk, input) => openJob(desk, input),
  'jobs.get': async (desk, { jobId, number }) => {
    if ((jobId === undefined) === (number === undefined))
      throw new Problem('bad-input', 'Give either jobId or number.', { field: 'jobId' });
    return jobView(
      desk,
      await cardOr404(desk, jobId !== undefined ? { id: jobId } : { number: number as number }),
    );
  },
  'jobs.list': async (desk, { statuses, text, vehicleId, limit, beforeNumber }) => {
    const rows = await listJobs(desk.db, { statuses, text, vehicleId, beforeNumber, limit: limit ?? 100 });
    return { jobs: await jobRows(desk, rows), counts: await countByStatus(desk.db) };
  },
  'jobs.update': async (desk, { jobId, ifVersion, set }) =>
    changeCard(desk, jobId, ifVersion, async (card) => {
      const { promiseAt, mileage_km, keyTag, technician, note, consent, status } = set;
      const left = card.concerns.filter((concern) => concern.state === 'open').length;
      const refused = status && refuseStatus(status, left);
      if (refused) throw new Problem('not-allowed-now', refused, { field: 'set.status' });
      if (status === 'in-work' || status === 'final-check') {
        const gate = await gateOf(desk, card);
        if (gate && !gate.isCovered) throw new Problem('not-allowed-now', gate.says, { field: 'set.status' });
      }
      const promise = promiseAt ? fromIso(promiseAt) : null;
      const now = desk.now();
      const limit = consent?.diagnosisUpTo;
      if (mileage_km !== undefined && mileage_km !== null)
        await keepMileage(desk, card.job.vehicle_id, mileage_km);
      return {
        ...(status ? { status } : {}),
        ...(status === 'collected' ? { closed_ms: now.ms, closed_offset: now.offset } : {}),
        ...(status && status !== 'collected' ? { closed_ms: null, closed_offset: null } : {}),
        ...(promiseAt === undefined
          ? {}
          : { promise_ms: promise?.ms ?? null, promise_offset: promise?.offset ?? null }),
        ...(mileage_km === undefined ? {} : { mileage_km }),
        ...(keyTag === undefined ? {} : { key_tag: keyTag || null }),
        ...(technician === undefined ? {} : { technician: technician || null }),
        ...(note === undefined ? {} : { note: note || null }),
        ...(limit === undefined
          ? {}
          : { limit_amount: limit?.amount ?? null, limit_currency: limit?.currency ?? null }),
        ...(consent?.testRide === undefined ? {} : { test_ride: Number(consent.testRide) }),
        ...(consent?.oldPartsBack === undefined ? {} : { old_parts: Number(consent.oldPartsBack) }),
      };
    }),
  'jobs.addConcern': async (desk, { jobId, ifVersion, concernId, words, symptomId }) => {
    if (concernId && (await wasMade(desk.db, concernId, 'concern', { jobId, words, symptomId })))
      return jobView(desk, await cardOr404(desk, { id: jobId }));
    return changeCard(desk, jobId, ifVersion, async (card) => {
      await addConcern(desk, card, { concernId, words, symptomId }, card.concerns.length + 1);
      return { status: afterNewConcern(card.job.status as Status) };
    });
  },
  'jobs.editConcern': async (desk, { jobId, concernId, ifVersion, words, symptomId }) =>
    changeCard(desk, jobId, ifVersion, async (card) => {
      const concern = openConcernOf(card, concernId);
      if (symptomId) symptomOr404((await desk.book()).book, symptomId);
      await updateConcern(desk.db, concern.id, {
        ...(words === undefined ? {} : { words }),
        ...(symptomId === undefined ? {} : { symptom_id: symptomId }),
      });
      if (symptomId !== undefined && symptomId !== concern.symptom_id) {
        const changed = { ...concern, symptom_id: symptomId };
        await markComeback(desk, card, changed);
        await keepWhatIsShown(desk, card, changed, 'opened');
      }
      return {};
    }),
  'jobs.record': async (desk, { jobId, concernId, ifVersion, readingId, reading }) => {
    if (readingId && (await wasMade(desk.db, readingId, 'reading', { jobId, concernId, reading })))
      return jobView(desk, await cardOr404(desk, { id: jobId }));
    return changeCard(desk, jobId, ifVersion, async (card) => {
      const concern = openConcernOf(card, concernId);
      await recordReading(desk, card, concern, reading, readingId);
      await keepWhatIsShown(desk, await cardOr404(desk, { id: jobId }), concern, 'reading');
      return { status: afterReading(card.job.status as Status) };
    });
  },
  'jobs.skip': async (desk, { jobId, concernId, ifVersion, readingId, checkId, why }) => {
    if (readingId && (await wasMade(desk.db, readingId, 'skip', { jobId, concernId, checkId, why })))
      return jobView(desk, await cardOr404(desk, { id: jobId }));
    return changeCard(desk, jobId, ifVersion, async (card) => {
      const concern = openConcernOf(card, concernId);
      const { book } = await desk.book();
      const check = book.checks.get(checkId as never);
      if (!check)
        throw new Problem('not-found', `The book has no check ${quoted(checkId)}.`, {
          field: 'checkId',
          id: checkId,
        });
      const now = desk.now();
      await insertReading(desk.db, {
        id: readingId ?? desk.newId(),
        concern_id: concern.id,
        at_ms: now.ms,
        at_offset: now.offset,
        check_id: check.id,
        title: check.title,
        shows: `left out: ${why}`,
        outcome: null,
        skipped: why,
        reading: null,
        undone_ms: null,
      });
      return {};
    });
  },
  'jobs.undo': async (desk, { jobId, concernId, ifVersion, readingId }) =>
    changeCard(desk, jobId, ifVersion, async (card) => {
      const concern = openConcernOf(card, concernId);
      const standing = card.readings.filter((row) => row.concern_id === concern.id && row.undone_ms === null);
      const target = readingId ? standing.find((row) => row.id === readingId) : standing.at(-1);
      if (!target)
        throw new Problem(
          'not-found',
          readingId
            ? `There is no reading ${quoted(readingId)} to take back.`
            : 'There is no reading to take back.',
          { field: 'readingId' },
        );
      await undoReading(desk.db, target.id, desk.now().ms);
      await keepWhatIsShown(desk, await cardOr404(desk, { id: jobId }), concern, 'reading');
      return {};
    }),
  'jobs.bench': async (desk, { jobId, concernId }) => {
    const card = await cardOr404(desk, { id: jobId });
    return benchOf(desk, card, concernOf(card, concernId));
  },
  'jobs.approve': async (desk, { jobId, ifVersion, approvalId, who, how, amount, words }) => {
    if (approvalId && (await wasMade(desk.db, approvalId, 'approval', { jobId, who, how, amount, words })))
      return jobView(desk, await cardOr404(desk, { id: jobId }));
    return changeCard(desk, jobId, ifVersion, async (card) => {
      if (amount.amount < 0)
        throw new Problem('bad-input', `amount.amount: at least 0, ${amount.amount} was given.`, {
          field: 'amount.amount',
        });
      const now = desk.now();
      await insertApproval(desk.db, {
        id: approvalId ?? desk.newId(),
        job_id: card.job.id,
        at_ms: now.ms,
        at_offset: now.offset,
        who,
        how,
        amount: amount.amount,
        currency: amount.currency,
        words: words ?? null,
      });
      // Less than the quotes ask for is on record, and does not let the work go on.
      const asked = await askedOn(desk, jobId);
      const isEnough = !asked || (asked.currency === amount.currency && asked.amount <= amount.amount);
      return card.job.status === 'awaiting-approval' && isEnough ? { status: 'in-work' } : {};
    });
  },
  'jobs.advise': async (desk, { jobId, ifVersion, advisoryId, words, urgency, doNotRide }) => {
    if (advisoryId && (await wasMade(desk.db, advisoryId, 'advisory', { jobId, words, urgency, doNotRide })))
      return jobView(desk, await cardOr404(desk, { id: jobId }));
    return changeCard(desk, jobId, ifVersion, async (card) => {
      const now = desk.now();
      await insertAdvisory(desk.db, {
        id: advisoryId ?? desk.newId(),
        job_id: card.job.id,
        vehicle_id: card.job.vehicle_id,
        words,
        urgency,
        do_not_ride: Number(doNotRide ?? false),
        state: 'open',
        made_ms: now.ms,
        made_offset: now.offset,
      });
      return {};
    });
  },
  'jobs.settleAdvisory': async (desk, { jobId, ifVersion, advisoryId, state }) =>
    changeCard(desk, jobId, ifVersion, async () => {
      if (!(await settleAdvisory(desk.db, advisoryId, jobId, state)))
        throw new Problem('not-found', `This vehicle has no advisory ${quoted(advisoryId)}.`, {
          field: 'advisoryId',
          id: advisoryId,
        });
      return {};
    }),
  'jobs.close': async (desk, input) => closeConcern(desk, input),
  'jobs.reopen': async (desk, input) => reopenConcern(desk, input),
  'jobs.classify': async (desk, input) => classifyComeback(desk, input),
} satisfies Group<'jobs.'>;

async function jobRows(desk: Desk, rows: Awaited<ReturnType<typeof listJobs>>): Promise<JobRow[]> {
  const { book } = await desk.book();
  const ids = rows.map((row) => row.id);
  const concerns = await concernsOfJobs(desk.db, ids);
  const advisories = await advisoriesOfJobs(desk.db, ids);
  return rows.map((row) => {
    const own = concerns.filter((concern) => concern.job_id === row.id);
    return {
      jobId: row.id,
      number: row.number,
      status: row.status as JobRow['status'],
      openedAt: toIso(row.opened_ms, row.opened_offset),
      promiseAt: isoOrNull(row.promise_ms, row.promise_offset),
      plate: row.plate,
      modelTitle: titleOfModel(book, row.model_id, row.model_words),
      customer: row.customer_name,
      technician: row.technician,
      keyTag: row.key_tag,
      concerns: own.map((concern) =>
        concern.symptom_id ? symptomTitle(book, concern.symptom_id) : concern.words,
      ),
      openConcerns: own.filter((concern) => concern.state === 'open').length,
      doNotRide: advisories.some(
        (one) => one.job_id === row.id && one.do_not_ride === 1 && one.state !== 'settled',
      ),
      comeback: own.some(
        (concern) => concern.comeback_of !== null && concern.comeback_state !== 'no-comeback',
      ),
    };
  });
}

export { jobRows };
