import type { Kysely } from 'kysely';
import type { Tables } from './schema.ts';

/** One change of the tables. Never edit a released one; add another. */
export type Migration = {
  readonly name: string;
  readonly up: (db: Kysely<Tables>) => Promise<void>;
};

/** All migrations, in order. */
export const MIGRATIONS: readonly Migration[] = [
  { name: '001-first', up: first },
  { name: '002-route-of-orders', up: routeOfOrders },
];

async function first(db: Kysely<Tables>): Promise<void> {
  const { schema } = db;
  await schema
    .createTable('shops')
    .addColumn('id', 'text', (c) => c.primaryKey().notNull())
    .addColumn('created_at', 'text', (c) => c.notNull())
    .addColumn('catalog_version', 'integer', (c) => c.notNull())
    .addColumn('plan_version', 'integer', (c) => c.notNull())
    .addColumn('next_order', 'integer', (c) => c.notNull())
    .addColumn('signing_key', 'text', (c) => c.notNull())
    .execute();
  const ofShop = (table: keyof Tables) =>
    schema.createTable(table).addColumn('shop', 'text', (c) => c.notNull().references('shops.id'));

  await ofShop('catalogs')
    .addColumn('version', 'integer', (c) => c.notNull())
    .addColumn('body', 'text', (c) => c.notNull())
    .addColumn('etag', 'text', (c) => c.notNull())
    .addColumn('created_at', 'text', (c) => c.notNull())
    .addColumn('created_by', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('catalogs_pk', ['shop', 'version'])
    .execute();
  await ofShop('owner_keys')
    .addColumn('id', 'text', (c) => c.notNull())
    .addColumn('name', 'text', (c) => c.notNull())
    .addColumn('role', 'text', (c) => c.notNull())
    .addColumn('hash', 'text', (c) => c.notNull())
    .addColumn('created_at', 'text', (c) => c.notNull())
    .addColumn('revoked_at', 'text')
    .addPrimaryKeyConstraint('owner_keys_pk', ['shop', 'id'])
    .execute();
  await ofShop('signing_keys')
    .addColumn('id', 'text', (c) => c.notNull())
    .addColumn('secret', 'text', (c) => c.notNull())
    .addColumn('created_at', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('signing_keys_pk', ['shop', 'id'])
    .execute();
  await ofShop('artworks')
    .addColumn('id', 'text', (c) => c.notNull())
    .addColumn('name', 'text', (c) => c.notNull())
    .addColumn('source', 'text', (c) => c.notNull())
    .addColumn('created_at', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('artworks_pk', ['shop', 'id'])
    .execute();
  await ofShop('artwork_rasters')
    .addColumn('artwork', 'text', (c) => c.notNull())
    .addColumn('remedies_hash', 'text', (c) => c.notNull())
    .addColumn('remedies', 'text', (c) => c.notNull())
    .addColumn('facts_version', 'integer', (c) => c.notNull())
    .addColumn('facts', 'text', (c) => c.notNull())
    .addColumn('raster', 'text', (c) => c.notNull())
    .addColumn('preview', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('artwork_rasters_pk', ['shop', 'artwork', 'remedies_hash'])
    .addForeignKeyConstraint('artwork_rasters_of', ['shop', 'artwork'], 'artworks', ['shop', 'id'], (c) =>
      c.onDelete('cascade'),
    )
    .execute();
  await ofShop('proofs')
    .addColumn('hash', 'text', (c) => c.notNull())
    .addColumn('subject', 'text', (c) => c.notNull())
    .addColumn('line', 'text', (c) => c.notNull())
    .addColumn('view', 'text', (c) => c.notNull())
    .addColumn('created_at', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('proofs_pk', ['shop', 'hash', 'subject'])
    .execute();
  await ofShop('orders')
    .addColumn('number', 'text', (c) => c.notNull())
    .addColumn('place', 'integer', (c) => c.notNull())
    .addColumn('state', 'text', (c) => c.notNull())
    .addColumn('placed_at', 'text', (c) => c.notNull())
    .addColumn('changed_at', 'text', (c) => c.notNull())
    .addColumn('promised_day', 'text', (c) => c.notNull())
    .addColumn('late_until', 'text')
    .addColumn('late_cause', 'text')
    .addColumn('pieces', 'integer', (c) => c.notNull())
    .addColumn('currency', 'text', (c) => c.notNull())
    .addColumn('subtotal', 'text', (c) => c.notNull())
    .addColumn('tax', 'text', (c) => c.notNull())
    .addColumn('total', 'text', (c) => c.notNull())
    .addColumn('status_key_hash', 'text', (c) => c.notNull())
    .addColumn('contact', 'text', (c) => c.notNull())
    .addColumn('slip', 'text', (c) => c.notNull())
    .addColumn('answer', 'text', (c) => c.notNull())
    .addColumn('bill', 'text', (c) => c.notNull())
    .addColumn('proofs', 'text', (c) => c.notNull())
    .addColumn('catalog_version', 'integer', (c) => c.notNull())
    .addColumn('job', 'text', (c) => c.notNull())
    .addColumn('not_before_s', 'bigint', (c) => c.notNull())
    .addColumn('ends_at_s', 'bigint', (c) => c.notNull())
    .addColumn('packing_s', 'double precision', (c) => c.notNull())
    .addColumn('delivery_rule', 'text', (c) => c.notNull())
    .addColumn('plan_version', 'integer', (c) => c.notNull())
    .addColumn('in_plan', 'integer', (c) => c.notNull())
    .addPrimaryKeyConstraint('orders_pk', ['shop', 'number'])
    .addUniqueConstraint('orders_place', ['shop', 'place'])
    .addForeignKeyConstraint('orders_catalog', ['shop', 'catalog_version'], 'catalogs', ['shop', 'version'])
    .execute();
  await schema.createIndex('orders_by_plan_version').on('orders').columns(['shop', 'plan_version']).execute();
  await schema.createIndex('orders_in_plan').on('orders').columns(['shop', 'in_plan', 'ends_at_s']).execute();
  const ofOrder = (table: keyof Tables) =>
    ofShop(table)
      .addColumn('order_number', 'text', (c) => c.notNull())
      .addForeignKeyConstraint(
        `${table}_order`,
        ['shop', 'order_number'],
        'orders',
        ['shop', 'number'],
        (c) => c.onDelete('cascade'),
      );
  await ofOrder('order_lines')
    .addColumn('place', 'integer', (c) => c.notNull())
    .addColumn('line', 'text', (c) => c.notNull())
    .addColumn('blank', 'text', (c) => c.notNull())
    .addColumn('color', 'text', (c) => c.notNull())
    .addColumn('finish', 'text', (c) => c.notNull())
    .addColumn('pieces', 'integer', (c) => c.notNull())
    .addColumn('total', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('order_lines_pk', ['shop', 'order_number', 'place'])
    .execute();
  await ofOrder('order_artworks')
    .addColumn('artwork', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('order_artworks_pk', ['shop', 'order_number', 'artwork'])
    .addForeignKeyConstraint('order_artworks_artwork', ['shop', 'artwork'], 'artworks', ['shop', 'id'])
    .execute();
  await schema
    .createIndex('order_artworks_by_artwork')
    .on('order_artworks')
    .columns(['shop', 'artwork'])
    .execute();
  await ofOrder('bookings')
    .addColumn('place', 'integer', (c) => c.notNull())
    .addColumn('chain', 'integer', (c) => c.notNull())
    .addColumn('step', 'integer', (c) => c.notNull())
    .addColumn('step_key', 'text', (c) => c.notNull())
    .addColumn('part', 'text', (c) => c.notNull())
    .addColumn('station', 'text', (c) => c.notNull())
    .addColumn('unit', 'integer', (c) => c.notNull())
    .addColumn('held_from_s', 'bigint', (c) => c.notNull())
    .addColumn('start_s', 'bigint', (c) => c.notNull())
    .addColumn('run_start_s', 'bigint', (c) => c.notNull())
    .addColumn('end_s', 'bigint', (c) => c.notNull())
    .addColumn('set_up_s', 'double precision', (c) => c.notNull())
    .addColumn('run_s', 'double precision', (c) => c.notNull())
    .addColumn('full_set_up_s', 'double precision', (c) => c.notNull())
    .addColumn('set_up_crew_share', 'double precision', (c) => c.notNull())
    .addColumn('crew_share', 'double precision', (c) => c.notNull())
    .addColumn('like_key', 'text')
    .addColumn('joined', 'integer', (c) => c.notNull())
    .addColumn('state', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('bookings_pk', ['shop', 'order_number', 'place'])
    .execute();
  await ofShop('outages')
    .addColumn('id', 'text', (c) => c.notNull())
    .addColumn('station', 'text', (c) => c.notNull())
    .addColumn('unit', 'integer')
    .addColumn('from_s', 'bigint', (c) => c.notNull())
    .addColumn('to_s', 'bigint', (c) => c.notNull())
    .addPrimaryKeyConstraint('outages_pk', ['shop', 'id'])
    .execute();
  await ofShop('floor_events')
    .addColumn('id', 'text', (c) => c.notNull())
    .addColumn('at', 'text', (c) => c.notNull())
    .addColumn('event', 'text', (c) => c.notNull())
    .addColumn('by_key', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('floor_events_pk', ['shop', 'id'])
    .execute();
  await ofShop('idempotency')
    .addColumn('key', 'text', (c) => c.notNull())
    .addColumn('fingerprint', 'text', (c) => c.notNull())
    .addColumn('status', 'integer', (c) => c.notNull())
    .addColumn('body', 'text', (c) => c.notNull())
    .addColumn('created_at', 'text', (c) => c.notNull())
    .addPrimaryKeyConstraint('idempotency_pk', ['shop', 'key'])
    .execute();
}

/** Null for earlier orders, whose routes were not stored. */
async function routeOfOrders({ schema }: Kysely<Tables>): Promise<void> {
  await schema.alterTable('orders').addColumn('route', 'text').execute();
}
