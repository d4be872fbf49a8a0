import { z } from 'zod';
import { ProofAnswer, ProofRequest, Sha256 } from '../../src/contract/index.ts';
import { isRefusal } from '../files/index.ts';
import { ifNoneMatchHas } from '../http/etag.ts';
import { fileProblem, ProblemError } from '../http/problem.ts';
import { planProof } from '../services/proof-plan.ts';
import { proofSubject } from '../services/proof-subject.ts';
import { type RouteContext, SHOP, shopBase } from './context.ts';

const FOREVER = 'public, max-age=31536000, immutable';

/** Proofs: pictures of what will be made, for the customer to approve. */
export function proofRoutes({ book, deps, quotes, artworks }: RouteContext): void {
  book.add(
    {
      method: 'post',
      path: `${SHOP}/proofs`,
      id: 'drawProof',
      tag: 'Customers',
      summary: 'A picture of one side of a line as its method will print it',
      description:
        'Drawn by the shop from the files as sent, mends applied. Of a list of names it shows the first, and says so. The same slip gives the same picture; ordering with its hash approves it.',
      body: { schema: ProofRequest, limitBytes: deps.limits.jsonBytes },
      answers: { 200: { description: 'The proof and its address', schema: ProofAnswer } },
      problems: ['unknown-artwork', 'unknown-id', 'unreadable-file', 'busy', 'invalid-input'],
    },
    async (c, { body }) => {
      const head = c.get('head');
      const artwork = await artworks.forSlip(head.shop, body.slip);
      if (isRefusal(artwork)) throw fileProblem(artwork);
      const { result } = await quotes.quote(deps.store, head, body.slip, artwork, { brief: true });
      if (result.faults !== undefined)
        throw new ProblemError(result.code, result.faults[0]?.message ?? 'the slip names something unknown', {
          faults: result.faults.map((fault) => ({ ...fault, at: `slip.${fault.at}` })),
        });
      if (result.internal === undefined)
        throw new ProblemError(
          'invalid-input',
          'a slip that cannot be made has no proof; its quote says why',
        );
      const lines = result.internal.routed.lines;
      const routed = lines.find((entry) => entry.line.id === body.line);
      const plan = routed && planProof(routed, body.view);
      if (routed === undefined || plan === undefined) {
        const at = routed === undefined ? 'line' : 'view';
        const allowed =
          routed === undefined
            ? lines.map((entry) => entry.line.id)
            : routed.blank.views.map((view) => view.id);
        const message = `the slip has no ${at} '${body[at]}'`;
        throw new ProblemError('unknown-id', message, {
          faults: [{ at, message, value: body[at], allowed: allowed.join(', ') }],
        });
      }
      const rasters = await Promise.all(
        plan.artworks.map(async ({ artwork: id, remedies }) => {
          const found = await artworks.withRemedies(head.shop, id, remedies);
          if (found === undefined)
            throw new ProblemError('unknown-artwork', `there is no artwork ${id} here`);
          if (isRefusal(found)) throw fileProblem(found);
          const bytes = await artworks.bytes(head.shop, found.raster.raster);
          if (bytes === null) throw new Error(`the raster ${found.raster.raster} is missing`);
          return bytes;
        }),
      );
      const drawn = await deps.pool.proof(plan.request, rasters);
      if (isRefusal(drawn)) throw fileProblem(drawn);
      const files = await deps.filesOf(head.shop);
      const hash = await files.put(drawn.png);
      await deps.store.write(head.shop, (parts) =>
        parts.artworks.addProof(head.shop, {
          hash,
          subject: proofSubject(routed.line),
          line: body.line,
          view: body.view,
          createdAt: new Date(deps.now()).toISOString(),
        }),
      );
      return c.json({
        line: body.line,
        view: body.view,
        hash,
        url: `${shopBase(head.shop)}/proofs/${hash}.png`,
        ...(plan.name && { name: plan.name }),
      });
    },
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/proofs/{proof}`,
      id: 'getProof',
      tag: 'Customers',
      summary: 'The picture of a proof',
      params: z.object({ proof: z.string().regex(/^[0-9a-f]{64}\.png$/) }),
      answers: { 200: { description: 'The picture', media: 'image/png' } },
      problems: ['not-found'],
    },
    async (c, { params }) => {
      const { shop } = c.get('head');
      const hash = Sha256.parse(params.proof.slice(0, -'.png'.length));
      const known = (await deps.store.artworks.proofSubjects(shop, [hash])).has(hash);
      const bytes = known ? await artworks.bytes(shop, hash) : null;
      if (bytes === null) throw new ProblemError('not-found', 'there is no such proof here');
      c.header('ETag', `"${hash}"`);
      c.header('Cache-Control', FOREVER);
      c.header('Cross-Origin-Resource-Policy', 'cross-origin');
      c.header('Content-Security-Policy', "default-src 'none'; sandbox");
      if (ifNoneMatchHas(c.req.header('if-none-match'), `"${hash}"`)) return c.body(null, 304);
      c.header('Content-Type', 'image/png');
      return c.body(new Uint8Array(bytes));
    },
  );
}
