import type { Insertable, Selectable } from 'kysely';

/**
 * The tables, the same on SQLite and PostgreSQL. Amounts and days are text, which both return unchanged; documents are JSON
 * text; instants are ISO text; times that the plan computes with are whole epoch seconds.
 */
export type Tables = {
  shops: {
    id: string;
    created_at: string;
    /** newest version in `catalogs`. */
    catalog_version: number;
    /** incremented with every change of bookings or outages. */
    plan_version: number;
    next_order: number;
    /** the key that signs quotes now. */
    signing_key: string;
  };
  catalogs: {
    shop: string;
    version: number;
    body: string;
    etag: string;
    created_at: string;
    created_by: string;
  };
  owner_keys: {
    shop: string;
    id: string;
    name: string;
    role: 'owner' | 'floor';
    /** SHA-256 of the secret part, hexadecimal; the secret itself (256 random bits) is not stored. */
    hash: string;
    created_at: string;
    revoked_at: string | null;
  };
  signing_keys: { shop: string; id: string; secret: string; created_at: string };
  artworks: { shop: string; id: string; name: string; source: string; created_at: string };
  artwork_rasters: {
    shop: string;
    artwork: string;
    /** SHA-256 of the remedies as canonical JSON. */
    remedies_hash: string;
    remedies: string;
    facts_version: number;
    facts: string;
    raster: string;
    preview: string;
  };
  proofs: { shop: string; hash: string; subject: string; line: string; view: string; created_at: string };
  orders: {
    shop: string;
    number: string;
    /** number of the order within the shop, from 1. */
    place: number;
    state: string;
    placed_at: string;
    changed_at: string;
    promised_day: string;
    late_until: string | null;
    late_cause: string | null;
    pieces: number;
    currency: string;
    subtotal: string;
    tax: string;
    total: string;
    status_key_hash: string;
    contact: string;
    slip: string;
    answer: string;
    bill: string;
    /** a `RouteRecord`; null for orders older than this column. */
    route: string | null;
    proofs: string;
    catalog_version: number;
    job: string;
    not_before_s: number;
    ends_at_s: number;
    packing_s: number;
    delivery_rule: string;
    /** plan version of the last change of its bookings. */
    plan_version: number;
    /** 1 while its work may still be in the plan. */
    in_plan: number;
  };
  order_lines: {
    shop: string;
    order_number: string;
    place: number;
    line: string;
    blank: string;
    color: string;
    finish: string;
    pieces: number;
    total: string;
  };
  order_artworks: { shop: string; order_number: string; artwork: string };
  bookings: {
    shop: string;
    order_number: string;
    place: number;
    chain: number;
    step: number;
    step_key: string;
    part: 'all' | 'set-up';
    station: string;
    unit: number;
    held_from_s: number;
    start_s: number;
    run_start_s: number;
    end_s: number;
    set_up_s: number;
    run_s: number;
    full_set_up_s: number;
    set_up_crew_share: number;
    crew_share: number;
    like_key: string | null;
    joined: number;
    state: 'booked' | 'started' | 'finished';
  };
  outages: { shop: string; id: string; station: string; unit: number | null; from_s: number; to_s: number };
  floor_events: { shop: string; id: string; at: string; event: string; by_key: string };
  idempotency: {
    shop: string;
    key: string;
    fingerprint: string;
    status: number;
    body: string;
    created_at: string;
  };
};

export type Row<T extends keyof Tables> = Selectable<Tables[T]>;
export type NewRow<T extends keyof Tables> = Insertable<Tables[T]>;
