-- Ledgerboard, first migration. Every tenant table: key (company_id, id), foreign and unique keys that carry
-- company_id, row-level security on and forced. The tenant is a setting local to the transaction; where it is
-- unset, nothing is seen and nothing can be inserted.

DO $$ BEGIN
  IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'ledgerboard_app') THEN
    CREATE ROLE ledgerboard_app NOLOGIN NOSUPERUSER NOBYPASSRLS NOCREATEDB NOCREATEROLE;
  END IF;
END $$;
GRANT USAGE ON SCHEMA public TO ledgerboard_app;

-- Every change of a row raises its version: the optimistic lock behind ETag and If-Match.
CREATE FUNCTION touch_row() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.updated_at := now();
  NEW.version := OLD.version + 1;
  RETURN NEW;
END $$;

CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'append-only: % of % refused', lower(TG_OP), TG_TABLE_NAME USING ERRCODE = 'LB001';
END $$;

-- A tenant. Its id is its company_id, so the key rule holds here too.
CREATE TABLE companies (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  slug text NOT NULL,
  name text NOT NULL,
  job_prefix text NOT NULL,
  currency text NOT NULL DEFAULT 'USD',
  phone text,
  email text,
  address text NOT NULL DEFAULT '',
  state text NOT NULL,
  timezone text NOT NULL,
  licence_line text NOT NULL DEFAULT '',
  insurance_line text NOT NULL DEFAULT '',
  deposit_share_bp integer NOT NULL DEFAULT 3333,
  quote_valid_days integer NOT NULL DEFAULT 30,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id),
  UNIQUE (company_id, slug),
  CHECK (id = company_id),
  CHECK (state ~ '^[A-Z]{2}$')
);

-- A person in a company.
CREATE TABLE members (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  name text NOT NULL,
  email text NOT NULL,
  password_hash text NOT NULL,
  roles text[] NOT NULL,
  active boolean NOT NULL DEFAULT true,
  last_seen_at timestamptz,
  failed_sign_ins integer NOT NULL DEFAULT 0,
  locked_until timestamptz,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, email),
  CHECK (email = lower(email)),
  CHECK (cardinality(roles) > 0 AND roles <@ ARRAY['owner','sales','estimator','scheduler','lead_hand'])
);

-- A signed-in browser; only the hash of its cookie is kept.
CREATE TABLE sessions (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  member_id uuid NOT NULL,
  token_hash text NOT NULL,
  csrf_token text NOT NULL,
  expires_at timestamptz NOT NULL,
  last_seen_at timestamptz NOT NULL DEFAULT now(),
  revoked_at timestamptz,
  user_agent text NOT NULL DEFAULT '',
  address text NOT NULL DEFAULT '',
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, token_hash)
);

CREATE TABLE invitations (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  email text NOT NULL,
  name text NOT NULL,
  roles text[] NOT NULL,
  token_hash text NOT NULL,
  invited_by_id uuid NOT NULL,
  expires_at timestamptz NOT NULL,
  accepted_at timestamptz,
  revoked_at timestamptz,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, token_hash)
);

CREATE TABLE password_resets (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  member_id uuid NOT NULL,
  token_hash text NOT NULL,
  expires_at timestamptz NOT NULL,
  used_at timestamptz,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, token_hash)
);

-- Who pays. A merged customer points at the one it was folded into; nothing moves, so a merge can be undone.
CREATE TABLE customers (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  name text NOT NULL,
  phone text,
  phone_normalized text,
  email text,
  email_normalized text,
  notes text NOT NULL DEFAULT '',
  merged_into_id uuid,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CHECK (merged_into_id <> id)
);
CREATE INDEX ON customers (company_id, phone_normalized);
CREATE INDEX ON customers (company_id, email_normalized);
CREATE INDEX ON customers (company_id, name, id);
CREATE INDEX ON customers (company_id, merged_into_id);

CREATE TABLE properties (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  customer_id uuid NOT NULL,
  street text NOT NULL,
  city text NOT NULL,
  state text NOT NULL,
  postal_code text NOT NULL,
  latitude numeric(9,6),
  longitude numeric(9,6),
  year_built integer,
  access_notes text NOT NULL DEFAULT '',
  salt_exposure boolean NOT NULL DEFAULT false,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id)
);
CREATE INDEX ON properties (company_id, customer_id);

-- One piece of work at one property. `stage` and `facts` are written only by the one function that derives them.
CREATE TABLE jobs (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  number text NOT NULL,
  title text NOT NULL,
  customer_id uuid NOT NULL,
  property_id uuid NOT NULL,
  salesperson_id uuid,
  estimator_id uuid,
  hazard text,
  pinned_why text,
  inquiry_on date NOT NULL,
  promised_from date,
  promised_to date,
  probability_bp integer,
  closed_on date,
  closed_reason text,
  closed_note text NOT NULL DEFAULT '',
  stage text NOT NULL DEFAULT 'inquiry',
  facts jsonb NOT NULL DEFAULT '{}',
  urgency integer NOT NULL GENERATED ALWAYS AS (CASE WHEN pinned_why IS NOT NULL THEN 0 WHEN hazard IS NOT NULL THEN 1 ELSE 2 END) STORED,
  -- A customer nobody promised anything is treated as promised a start within 60 days (common practice, no source).
  due_on date NOT NULL GENERATED ALWAYS AS (coalesce(promised_to, inquiry_on + 60)) STORED,
  list_view text NOT NULL GENERATED ALWAYS AS (CASE WHEN stage IN ('booked', 'under_way', 'finished', 'closed') THEN stage ELSE 'waiting' END) STORED,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT jobs_closed_reason_known CHECK (closed_reason IN ('customer_declined', 'out_of_area', 'not_our_trade', 'no_answer', 'duplicate', 'unsafe_to_repair', 'other')),
  CONSTRAINT jobs_stage_known CHECK (stage IN ('inquiry', 'first_pass', 'site_review', 'quoted', 'accepted', 'booked', 'under_way', 'finished', 'closed')),
  UNIQUE (company_id, number),
  CHECK ((closed_on IS NULL) = (closed_reason IS NULL)),
  CHECK (promised_from <= promised_to)
);
CREATE INDEX ON jobs (company_id, customer_id);
CREATE INDEX ON jobs (company_id, property_id);
CREATE INDEX jobs_list ON jobs (company_id, list_view, urgency, due_on, inquiry_on, id);

-- An inquiry as it came in; never edited.
CREATE TABLE leads (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  source text NOT NULL,
  words text NOT NULL,
  contact_name text NOT NULL,
  contact_phone text,
  contact_email text,
  received_at timestamptz NOT NULL DEFAULT now(),
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT leads_source_known CHECK (source IN ('phone', 'web_form', 'referral', 'repeat_customer', 'other'))
);
CREATE INDEX ON leads (company_id, job_id);

-- A start window told to the customer.
CREATE TABLE promises (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  from_on date NOT NULL,
  to_on date NOT NULL,
  probability_bp integer,
  made_by_id uuid,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CHECK (from_on <= to_on)
);
CREATE INDEX ON promises (company_id, job_id);

CREATE TABLE zones (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  name text NOT NULL,
  kind text NOT NULL,
  length_ft numeric(8,4),
  width_ft numeric(8,4),
  height_ft numeric(8,4),
  evidence text NOT NULL DEFAULT 'assumed',
  notes text NOT NULL DEFAULT '',
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT zones_kind_known CHECK (kind IN ('deck', 'porch', 'stair', 'landing', 'railing', 'other')),
  CONSTRAINT zones_evidence_known CHECK (evidence IN ('assumed', 'measured', 'counted', 'concealed', 'found')),
  CHECK (length_ft > 0),
  CHECK (width_ft > 0),
  CHECK (height_ft > 0)
);
CREATE INDEX ON zones (company_id, job_id);

CREATE TABLE visits (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  kind text NOT NULL,
  starts_at timestamptz NOT NULL,
  minutes integer NOT NULL DEFAULT 60,
  member_id uuid NOT NULL,
  state text NOT NULL DEFAULT 'scheduled',
  notes text NOT NULL DEFAULT '',
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT visits_kind_known CHECK (kind IN ('first_look', 'site_review', 'follow_up')),
  CONSTRAINT visits_state_known CHECK (state IN ('scheduled', 'done', 'cancelled'))
);
CREATE INDEX ON visits (company_id, job_id);
CREATE INDEX ON visits (company_id, member_id, starts_at);

CREATE TABLE observations (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  zone_id uuid,
  component text,
  text text NOT NULL,
  evidence text NOT NULL,
  member_id uuid NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT observations_component_known CHECK (component IN ('decking', 'joist', 'rim_joist', 'band', 'beam', 'post', 'footing', 'ledger', 'joist_hanger', 'guard_post', 'rail_cap', 'rail', 'baluster', 'gate', 'stringer', 'tread', 'riser', 'skirting', 'lattice', 'flashing', 'fastener', 'finish')),
  CONSTRAINT observations_evidence_known CHECK (evidence IN ('assumed', 'measured', 'counted', 'concealed', 'found'))
);
CREATE INDEX ON observations (company_id, job_id);

-- A stored file by the hash of its content; the bytes live outside the database.
CREATE TABLE files (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid,
  zone_id uuid,
  lineage_id uuid,
  sha256 text NOT NULL,
  name text NOT NULL,
  media_type text NOT NULL,
  bytes integer NOT NULL,
  member_id uuid,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CHECK (sha256 ~ '^[0-9a-f]{64}$'),
  CHECK (bytes > 0)
);
CREATE INDEX ON files (company_id, job_id);

CREATE TABLE price_books (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  name text NOT NULL,
  effective_from date NOT NULL,
  overhead_bp integer NOT NULL,
  margin_bp integer NOT NULL,
  material_tax_bp integer NOT NULL DEFAULT 0,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, effective_from),
  CHECK (margin_bp BETWEEN 0 AND 9000),
  CHECK (overhead_bp BETWEEN 0 AND 20000),
  CHECK (material_tax_bp BETWEEN 0 AND 3000)
);

CREATE TABLE labor_rates (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  price_book_id uuid NOT NULL,
  code text NOT NULL,
  name text NOT NULL,
  hourly_cents integer NOT NULL,
  burden_bp integer NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, price_book_id, code),
  CHECK (hourly_cents > 0),
  CHECK (burden_bp >= 0)
);

CREATE TABLE price_book_items (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  price_book_id uuid NOT NULL,
  code text NOT NULL,
  component text NOT NULL,
  action text NOT NULL,
  description text NOT NULL,
  unit text NOT NULL,
  material_unit_cents numeric(14,4) NOT NULL,
  waste_bp integer NOT NULL DEFAULT 0,
  hours_per_unit numeric(12,4) NOT NULL,
  labor_rate_code text NOT NULL,
  retired_at timestamptz,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT price_book_items_component_known CHECK (component IN ('decking', 'joist', 'rim_joist', 'band', 'beam', 'post', 'footing', 'ledger', 'joist_hanger', 'guard_post', 'rail_cap', 'rail', 'baluster', 'gate', 'stringer', 'tread', 'riser', 'skirting', 'lattice', 'flashing', 'fastener', 'finish')),
  CONSTRAINT price_book_items_action_known CHECK (action IN ('keep', 'clean', 'finish', 'refasten', 'treat', 'reinforce', 'sister', 'repair', 'replace', 'add', 'remove', 'open_up')),
  CONSTRAINT price_book_items_unit_known CHECK (unit IN ('each', 'lf', 'sqft', 'hour', 'lot')),
  UNIQUE (company_id, price_book_id, code),
  CHECK (material_unit_cents >= 0),
  CHECK (hours_per_unit >= 0),
  CHECK (waste_bp BETWEEN 0 AND 10000),
  FOREIGN KEY (company_id, price_book_id, labor_rate_code) REFERENCES labor_rates (company_id, price_book_id, code)
);

-- One estimate per job; it has revisions.
CREATE TABLE estimates (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, job_id)
);

-- Immutable once issued. Totals are sums of rounded lines.
CREATE TABLE revisions (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  estimate_id uuid NOT NULL,
  job_id uuid NOT NULL,
  number integer NOT NULL,
  kind text NOT NULL,
  based_on_id uuid,
  price_book_id uuid NOT NULL,
  overhead_bp integer NOT NULL,
  margin_bp integer NOT NULL,
  material_tax_bp integer NOT NULL,
  author_id uuid NOT NULL,
  note text NOT NULL DEFAULT '',
  hours numeric(14,4) NOT NULL DEFAULT 0,
  material_cents integer NOT NULL DEFAULT 0,
  labor_cents integer NOT NULL DEFAULT 0,
  cost_cents integer NOT NULL DEFAULT 0,
  price_cents integer NOT NULL DEFAULT 0,
  issued_at timestamptz,
  issued_by_id uuid,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT revisions_kind_known CHECK (kind IN ('first_pass', 'site_review', 'change_order')),
  UNIQUE (company_id, estimate_id, number)
);
CREATE INDEX ON revisions (company_id, job_id);

-- Zone x component x action x quantity x unit x evidence. `rates` is what it was priced with.
CREATE TABLE scope_lines (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  revision_id uuid NOT NULL,
  lineage_id uuid NOT NULL,
  position integer NOT NULL,
  zone_id uuid NOT NULL,
  component text NOT NULL,
  action text NOT NULL,
  item_code text,
  description text NOT NULL DEFAULT '',
  quantity numeric(12,4) NOT NULL,
  unit text NOT NULL,
  evidence text NOT NULL,
  by text NOT NULL DEFAULT 'us',
  reason_code text,
  reason text,
  reviewed_at timestamptz,
  rates jsonb,
  price_cents integer NOT NULL DEFAULT 0,
  hours numeric(14,4) NOT NULL DEFAULT 0,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT scope_lines_component_known CHECK (component IN ('decking', 'joist', 'rim_joist', 'band', 'beam', 'post', 'footing', 'ledger', 'joist_hanger', 'guard_post', 'rail_cap', 'rail', 'baluster', 'gate', 'stringer', 'tread', 'riser', 'skirting', 'lattice', 'flashing', 'fastener', 'finish')),
  CONSTRAINT scope_lines_action_known CHECK (action IN ('keep', 'clean', 'finish', 'refasten', 'treat', 'reinforce', 'sister', 'repair', 'replace', 'add', 'remove', 'open_up')),
  CONSTRAINT scope_lines_unit_known CHECK (unit IN ('each', 'lf', 'sqft', 'hour', 'lot')),
  CONSTRAINT scope_lines_evidence_known CHECK (evidence IN ('assumed', 'measured', 'counted', 'concealed', 'found')),
  CONSTRAINT scope_lines_by_known CHECK (by IN ('us', 'owner', 'others')),
  CONSTRAINT scope_lines_reason_code_known CHECK (reason_code IN ('miscount', 'misjudged_condition', 'missed', 'concealed', 'customer_wish', 'price_moved', 'other')),
  UNIQUE (company_id, revision_id, lineage_id),
  CHECK (quantity > 0),
  CHECK (price_cents >= 0)
);
CREATE INDEX ON scope_lines (company_id, revision_id, position);
CREATE INDEX ON scope_lines (company_id, zone_id);

CREATE TABLE materiality_policies (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  effective_from date NOT NULL,
  amount_cents integer NOT NULL,
  percent_bp integer NOT NULL,
  hours numeric(12,4),
  structural_action boolean NOT NULL DEFAULT true,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CHECK (amount_cents >= 0),
  CHECK (percent_bp >= 0)
);
CREATE INDEX ON materiality_policies (company_id, effective_from);

CREATE TABLE variances (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  from_revision_id uuid NOT NULL,
  to_revision_id uuid NOT NULL,
  policy_id uuid NOT NULL,
  material boolean NOT NULL,
  delta_cents integer NOT NULL,
  delta_hours numeric(14,4) NOT NULL,
  rules jsonb NOT NULL,
  bridge jsonb NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, from_revision_id, to_revision_id)
);
CREATE INDEX ON variances (company_id, job_id);

CREATE TABLE variance_waivers (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  variance_id uuid NOT NULL,
  why text NOT NULL,
  member_id uuid NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, variance_id)
);

-- An offer, frozen. `document_text` is the exact text whose SHA-256 the customer signs.
CREATE TABLE quotes (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  revision_id uuid NOT NULL,
  number text NOT NULL,
  price_cents integer NOT NULL,
  document jsonb NOT NULL,
  document_text text NOT NULL,
  document_sha256 text NOT NULL,
  issued_on date NOT NULL,
  expires_on date NOT NULL,
  issued_by_id uuid NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, number),
  CHECK (document_sha256 ~ '^[0-9a-f]{64}$'),
  CHECK (price_cents >= 0)
);
CREATE INDEX ON quotes (company_id, job_id);

-- How an open quote ended, if not by a signature or by expiring.
CREATE TABLE quote_endings (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  quote_id uuid NOT NULL,
  kind text NOT NULL,
  why text NOT NULL,
  member_id uuid,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT quote_endings_kind_known CHECK (kind IN ('superseded', 'declined', 'withdrawn')),
  UNIQUE (company_id, quote_id)
);

-- The customer's signature on one exact quote.
CREATE TABLE acceptances (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  quote_id uuid NOT NULL,
  signer text NOT NULL,
  signed_on date NOT NULL,
  signed_at text NOT NULL,
  document_sha256 text NOT NULL,
  cancel_until date,
  recorded_by_id uuid NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT acceptances_signed_at_known CHECK (signed_at IN ('home', 'office', 'remote')),
  UNIQUE (company_id, quote_id)
);
CREATE INDEX ON acceptances (company_id, job_id);

CREATE TABLE acceptance_voids (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  acceptance_id uuid NOT NULL,
  why text NOT NULL,
  variance_id uuid,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, acceptance_id)
);

CREATE TABLE deposit_requests (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  quote_id uuid NOT NULL,
  amount_cents integer NOT NULL,
  cap_cents integer,
  cap_source text NOT NULL,
  due_on date NOT NULL,
  requested_by_id uuid NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CHECK (amount_cents >= 0)
);
CREATE INDEX ON deposit_requests (company_id, job_id);

-- The ledger: entries are reversed by their opposite, never edited.
CREATE TABLE payments (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  kind text NOT NULL,
  method text NOT NULL,
  amount_cents integer NOT NULL,
  received_on date NOT NULL,
  reference text NOT NULL DEFAULT '',
  reverses_id uuid,
  why text NOT NULL DEFAULT '',
  recorded_by_id uuid NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT payments_kind_known CHECK (kind IN ('receipt', 'refund', 'reversal')),
  CONSTRAINT payments_method_known CHECK (method IN ('cheque', 'card', 'bank_transfer', 'cash')),
  UNIQUE (company_id, reverses_id),
  CHECK (amount_cents <> 0),
  CHECK (kind <> 'receipt' OR amount_cents > 0),
  CHECK (kind <> 'refund' OR amount_cents < 0),
  CHECK ((kind = 'reversal') = (reverses_id IS NOT NULL))
);
CREATE INDEX ON payments (company_id, job_id);

CREATE TABLE crews (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  name text NOT NULL,
  size integer NOT NULL,
  skills text[] NOT NULL DEFAULT '{}',
  base_latitude numeric(9,6),
  base_longitude numeric(9,6),
  active boolean NOT NULL DEFAULT true,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, name),
  CHECK (size BETWEEN 1 AND 20)
);

CREATE TABLE crew_members (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  crew_id uuid NOT NULL,
  member_id uuid,
  name text NOT NULL,
  lead boolean NOT NULL DEFAULT false,
  position integer NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id)
);
CREATE INDEX ON crew_members (company_id, crew_id);

-- Working weekdays (1 Monday to 7 Sunday) of a crew; of the company where crew_id is null.
CREATE TABLE calendars (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  crew_id uuid,
  weekdays integer[] NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE NULLS NOT DISTINCT (company_id, crew_id),
  CHECK (cardinality(weekdays) > 0)
);

-- A day a crew, or everybody (crew_id null), does not work.
CREATE TABLE calendar_closures (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  crew_id uuid,
  on_day date NOT NULL,
  why text NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE NULLS NOT DISTINCT (company_id, crew_id, on_day)
);

-- A crew on a job for a run of workdays.
CREATE TABLE bookings (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  crew_id uuid NOT NULL,
  start_on date NOT NULL,
  end_on date NOT NULL,
  crew_days integer NOT NULL,
  started_on date,
  finished_on date,
  actual_hours numeric(12,4),
  cancelled_at timestamptz,
  cancelled_why text,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CHECK (start_on <= end_on),
  CHECK (crew_days BETWEEN 1 AND 120),
  CHECK (finished_on IS NULL OR started_on IS NOT NULL)
);
CREATE INDEX ON bookings (company_id, job_id);
CREATE INDEX ON bookings (company_id, crew_id, start_on);
-- One standing booking per job; the exclusion keeps a crew off two jobs on one day whatever the program does.
CREATE UNIQUE INDEX bookings_one_standing ON bookings (company_id, job_id) WHERE cancelled_at IS NULL;

-- Holds a person placed; the derived ones are never stored.
CREATE TABLE holds (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  hold text NOT NULL,
  why text NOT NULL,
  placed_by_id uuid NOT NULL,
  lifted_at timestamptz,
  lifted_by_id uuid,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT holds_hold_known CHECK (hold IN ('permit', 'materials_on_order', 'customer_not_ready', 'weather'))
);
CREATE INDEX ON holds (company_id, job_id);

-- Who did what, when, from which request.
CREATE TABLE audit_entries (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  at timestamptz NOT NULL DEFAULT clock_timestamp(),
  member_id uuid,
  request_id text,
  action text NOT NULL,
  entity text NOT NULL,
  entity_id uuid NOT NULL,
  job_id uuid,
  words text NOT NULL,
  changes jsonb NOT NULL DEFAULT '{}',
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id)
);
CREATE INDEX ON audit_entries (company_id, job_id, id);
CREATE INDEX ON audit_entries (company_id, entity, entity_id);

-- Mail written in the same transaction as the change that causes it.
CREATE TABLE outbox_messages (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  kind text NOT NULL,
  recipient text NOT NULL,
  subject text NOT NULL,
  body text NOT NULL,
  dedupe_key text NOT NULL,
  job_id uuid,
  state text NOT NULL DEFAULT 'pending',
  attempts integer NOT NULL DEFAULT 0,
  last_error text,
  sent_at timestamptz,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT outbox_messages_state_known CHECK (state IN ('pending', 'sent', 'kept', 'failed')),
  UNIQUE (company_id, dedupe_key)
);
CREATE INDEX ON outbox_messages (company_id, id);

-- What a repeated POST gets back.
CREATE TABLE idempotency_keys (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  member_id uuid NOT NULL,
  key text NOT NULL,
  request_hash text NOT NULL,
  status integer NOT NULL,
  response jsonb NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, member_id, key)
);

-- Gap-free numbers of jobs and quotes, per company and year.
CREATE TABLE number_sequences (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  scope text NOT NULL,
  last integer NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  UNIQUE (company_id, scope)
);

-- Foreign keys carry the company: a row cannot point into another tenant even where constraint checks ignore policies.
ALTER TABLE members ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE sessions ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE sessions ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE invitations ADD FOREIGN KEY (company_id, invited_by_id) REFERENCES members (company_id, id);
ALTER TABLE invitations ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE password_resets ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE password_resets ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE customers ADD FOREIGN KEY (company_id, merged_into_id) REFERENCES customers (company_id, id);
ALTER TABLE customers ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE properties ADD FOREIGN KEY (company_id, customer_id) REFERENCES customers (company_id, id);
ALTER TABLE properties ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE jobs ADD FOREIGN KEY (company_id, customer_id) REFERENCES customers (company_id, id);
ALTER TABLE jobs ADD FOREIGN KEY (company_id, property_id) REFERENCES properties (company_id, id);
ALTER TABLE jobs ADD FOREIGN KEY (company_id, salesperson_id) REFERENCES members (company_id, id);
ALTER TABLE jobs ADD FOREIGN KEY (company_id, estimator_id) REFERENCES members (company_id, id);
ALTER TABLE jobs ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE leads ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE leads ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE promises ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE promises ADD FOREIGN KEY (company_id, made_by_id) REFERENCES members (company_id, id);
ALTER TABLE promises ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE zones ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE zones ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE visits ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE visits ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE visits ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE observations ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE observations ADD FOREIGN KEY (company_id, zone_id) REFERENCES zones (company_id, id);
ALTER TABLE observations ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE observations ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE files ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE files ADD FOREIGN KEY (company_id, zone_id) REFERENCES zones (company_id, id);
ALTER TABLE files ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE files ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE price_books ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE labor_rates ADD FOREIGN KEY (company_id, price_book_id) REFERENCES price_books (company_id, id);
ALTER TABLE labor_rates ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE price_book_items ADD FOREIGN KEY (company_id, price_book_id) REFERENCES price_books (company_id, id);
ALTER TABLE price_book_items ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE estimates ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE estimates ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE revisions ADD FOREIGN KEY (company_id, estimate_id) REFERENCES estimates (company_id, id);
ALTER TABLE revisions ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE revisions ADD FOREIGN KEY (company_id, based_on_id) REFERENCES revisions (company_id, id);
ALTER TABLE revisions ADD FOREIGN KEY (company_id, price_book_id) REFERENCES price_books (company_id, id);
ALTER TABLE revisions ADD FOREIGN KEY (company_id, author_id) REFERENCES members (company_id, id);
ALTER TABLE revisions ADD FOREIGN KEY (company_id, issued_by_id) REFERENCES members (company_id, id);
ALTER TABLE revisions ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE scope_lines ADD FOREIGN KEY (company_id, revision_id) REFERENCES revisions (company_id, id);
ALTER TABLE scope_lines ADD FOREIGN KEY (company_id, zone_id) REFERENCES zones (company_id, id);
ALTER TABLE scope_lines ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE materiality_policies ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE variances ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE variances ADD FOREIGN KEY (company_id, from_revision_id) REFERENCES revisions (company_id, id);
ALTER TABLE variances ADD FOREIGN KEY (company_id, to_revision_id) REFERENCES revisions (company_id, id);
ALTER TABLE variances ADD FOREIGN KEY (company_id, policy_id) REFERENCES materiality_policies (company_id, id);
ALTER TABLE variances ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE variance_waivers ADD FOREIGN KEY (company_id, variance_id) REFERENCES variances (company_id, id);
ALTER TABLE variance_waivers ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE variance_waivers ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE quotes ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE quotes ADD FOREIGN KEY (company_id, revision_id) REFERENCES revisions (company_id, id);
ALTER TABLE quotes ADD FOREIGN KEY (company_id, issued_by_id) REFERENCES members (company_id, id);
ALTER TABLE quotes ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE quote_endings ADD FOREIGN KEY (company_id, quote_id) REFERENCES quotes (company_id, id);
ALTER TABLE quote_endings ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE quote_endings ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE acceptances ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE acceptances ADD FOREIGN KEY (company_id, quote_id) REFERENCES quotes (company_id, id);
ALTER TABLE acceptances ADD FOREIGN KEY (company_id, recorded_by_id) REFERENCES members (company_id, id);
ALTER TABLE acceptances ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE acceptance_voids ADD FOREIGN KEY (company_id, acceptance_id) REFERENCES acceptances (company_id, id);
ALTER TABLE acceptance_voids ADD FOREIGN KEY (company_id, variance_id) REFERENCES variances (company_id, id);
ALTER TABLE acceptance_voids ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE deposit_requests ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE deposit_requests ADD FOREIGN KEY (company_id, quote_id) REFERENCES quotes (company_id, id);
ALTER TABLE deposit_requests ADD FOREIGN KEY (company_id, requested_by_id) REFERENCES members (company_id, id);
ALTER TABLE deposit_requests ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE payments ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE payments ADD FOREIGN KEY (company_id, reverses_id) REFERENCES payments (company_id, id);
ALTER TABLE payments ADD FOREIGN KEY (company_id, recorded_by_id) REFERENCES members (company_id, id);
ALTER TABLE payments ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE crews ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE crew_members ADD FOREIGN KEY (company_id, crew_id) REFERENCES crews (company_id, id);
ALTER TABLE crew_members ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE crew_members ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE calendars ADD FOREIGN KEY (company_id, crew_id) REFERENCES crews (company_id, id);
ALTER TABLE calendars ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE calendar_closures ADD FOREIGN KEY (company_id, crew_id) REFERENCES crews (company_id, id);
ALTER TABLE calendar_closures ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE bookings ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE bookings ADD FOREIGN KEY (company_id, crew_id) REFERENCES crews (company_id, id);
ALTER TABLE bookings ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE holds ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE holds ADD FOREIGN KEY (company_id, placed_by_id) REFERENCES members (company_id, id);
ALTER TABLE holds ADD FOREIGN KEY (company_id, lifted_by_id) REFERENCES members (company_id, id);
ALTER TABLE holds ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE audit_entries ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE audit_entries ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE audit_entries ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE outbox_messages ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE outbox_messages ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE idempotency_keys ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE idempotency_keys ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE number_sequences ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);

ALTER TABLE companies ENABLE ROW LEVEL SECURITY;
ALTER TABLE companies FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON companies USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON companies TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON companies FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE members ENABLE ROW LEVEL SECURITY;
ALTER TABLE members FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON members USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON members TO ledgerboard_app;
-- A sign-in notes its time on the row; that is no change somebody else has to be told of.
CREATE TRIGGER touch BEFORE UPDATE OF name, email, roles, active, password_hash ON members FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE sessions ENABLE ROW LEVEL SECURITY;
ALTER TABLE sessions FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON sessions USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON sessions TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON sessions FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE invitations ENABLE ROW LEVEL SECURITY;
ALTER TABLE invitations FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON invitations USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON invitations TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON invitations FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE password_resets ENABLE ROW LEVEL SECURITY;
ALTER TABLE password_resets FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON password_resets USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON password_resets TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON password_resets FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE customers ENABLE ROW LEVEL SECURITY;
ALTER TABLE customers FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON customers USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON customers TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON customers FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE properties ENABLE ROW LEVEL SECURITY;
ALTER TABLE properties FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON properties USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON properties TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON properties FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE jobs ENABLE ROW LEVEL SECURITY;
ALTER TABLE jobs FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON jobs USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON jobs TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON jobs FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE leads ENABLE ROW LEVEL SECURITY;
ALTER TABLE leads FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON leads USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON leads TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON leads FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON leads FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE promises ENABLE ROW LEVEL SECURITY;
ALTER TABLE promises FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON promises USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON promises TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON promises FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON promises FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE zones ENABLE ROW LEVEL SECURITY;
ALTER TABLE zones FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON zones USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE, DELETE ON zones TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON zones FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE visits ENABLE ROW LEVEL SECURITY;
ALTER TABLE visits FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON visits USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON visits TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON visits FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE observations ENABLE ROW LEVEL SECURITY;
ALTER TABLE observations FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON observations USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON observations TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON observations FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON observations FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE files ENABLE ROW LEVEL SECURITY;
ALTER TABLE files FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON files USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON files TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON files FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON files FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE price_books ENABLE ROW LEVEL SECURITY;
ALTER TABLE price_books FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON price_books USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON price_books TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON price_books FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE labor_rates ENABLE ROW LEVEL SECURITY;
ALTER TABLE labor_rates FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON labor_rates USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON labor_rates TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON labor_rates FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE price_book_items ENABLE ROW LEVEL SECURITY;
ALTER TABLE price_book_items FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON price_book_items USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON price_book_items TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON price_book_items FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE estimates ENABLE ROW LEVEL SECURITY;
ALTER TABLE estimates FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON estimates USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON estimates TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON estimates FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE revisions ENABLE ROW LEVEL SECURITY;
ALTER TABLE revisions FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON revisions USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE, DELETE ON revisions TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON revisions FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE scope_lines ENABLE ROW LEVEL SECURITY;
ALTER TABLE scope_lines FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON scope_lines USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE, DELETE ON scope_lines TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON scope_lines FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE materiality_policies ENABLE ROW LEVEL SECURITY;
ALTER TABLE materiality_policies FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON materiality_policies USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON materiality_policies TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON materiality_policies FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON materiality_policies FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE variances ENABLE ROW LEVEL SECURITY;
ALTER TABLE variances FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON variances USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON variances TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON variances FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON variances FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE variance_waivers ENABLE ROW LEVEL SECURITY;
ALTER TABLE variance_waivers FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON variance_waivers USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON variance_waivers TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON variance_waivers FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON variance_waivers FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE quotes ENABLE ROW LEVEL SECURITY;
ALTER TABLE quotes FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON quotes USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON quotes TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON quotes FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON quotes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE quote_endings ENABLE ROW LEVEL SECURITY;
ALTER TABLE quote_endings FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON quote_endings USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON quote_endings TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON quote_endings FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON quote_endings FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE acceptances ENABLE ROW LEVEL SECURITY;
ALTER TABLE acceptances FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON acceptances USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON acceptances TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON acceptances FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON acceptances FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE acceptance_voids ENABLE ROW LEVEL SECURITY;
ALTER TABLE acceptance_voids FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON acceptance_voids USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON acceptance_voids TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON acceptance_voids FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON acceptance_voids FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE deposit_requests ENABLE ROW LEVEL SECURITY;
ALTER TABLE deposit_requests FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON deposit_requests USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON deposit_requests TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON deposit_requests FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON deposit_requests FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE payments ENABLE ROW LEVEL SECURITY;
ALTER TABLE payments FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON payments USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON payments TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON payments FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON payments FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE crews ENABLE ROW LEVEL SECURITY;
ALTER TABLE crews FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON crews USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON crews TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON crews FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE crew_members ENABLE ROW LEVEL SECURITY;
ALTER TABLE crew_members FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON crew_members USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE, DELETE ON crew_members TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON crew_members FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE calendars ENABLE ROW LEVEL SECURITY;
ALTER TABLE calendars FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON calendars USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON calendars TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON calendars FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE calendar_closures ENABLE ROW LEVEL SECURITY;
ALTER TABLE calendar_closures FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON calendar_closures USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE, DELETE ON calendar_closures TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON calendar_closures FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE bookings ENABLE ROW LEVEL SECURITY;
ALTER TABLE bookings FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON bookings USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON bookings TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON bookings FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE holds ENABLE ROW LEVEL SECURITY;
ALTER TABLE holds FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON holds USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON holds TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON holds FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE audit_entries ENABLE ROW LEVEL SECURITY;
ALTER TABLE audit_entries FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON audit_entries USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON audit_entries TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON audit_entries FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON audit_entries FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

ALTER TABLE outbox_messages ENABLE ROW LEVEL SECURITY;
ALTER TABLE outbox_messages FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON outbox_messages USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON outbox_messages TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON outbox_messages FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE idempotency_keys ENABLE ROW LEVEL SECURITY;
ALTER TABLE idempotency_keys FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON idempotency_keys USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE, DELETE ON idempotency_keys TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON idempotency_keys FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE number_sequences ENABLE ROW LEVEL SECURITY;
ALTER TABLE number_sequences FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON number_sequences USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON number_sequences TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON number_sequences FOR EACH ROW EXECUTE FUNCTION touch_row();

-- A revision is immutable once issued, and so are its lines. Issuing itself is the last change it takes.
CREATE FUNCTION keep_issued_revision() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF OLD.issued_at IS NOT NULL THEN
    RAISE EXCEPTION 'append-only: % of an issued revision refused', lower(TG_OP) USING ERRCODE = 'LB001';
  END IF;
  IF TG_OP = 'DELETE' THEN RETURN OLD; END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER issued_stays BEFORE UPDATE OR DELETE ON revisions FOR EACH ROW EXECUTE FUNCTION keep_issued_revision();

CREATE FUNCTION keep_issued_lines() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  parent uuid := CASE WHEN TG_OP = 'DELETE' THEN OLD.revision_id ELSE NEW.revision_id END;
  tenant uuid := CASE WHEN TG_OP = 'DELETE' THEN OLD.company_id ELSE NEW.company_id END;
  issued timestamptz;
BEGIN
  IF TG_OP = 'UPDATE' AND (NEW.revision_id <> OLD.revision_id OR NEW.lineage_id <> OLD.lineage_id) THEN
    RAISE EXCEPTION 'append-only: a scope line stays in its revision' USING ERRCODE = 'LB001';
  END IF;
  -- Waits for whoever is issuing the revision just now: a line begun before must not slip in after.
  SELECT issued_at INTO issued FROM revisions WHERE company_id = tenant AND id = parent FOR NO KEY UPDATE;
  IF issued IS NOT NULL THEN
    RAISE EXCEPTION 'append-only: % of a line of an issued revision refused', lower(TG_OP) USING ERRCODE = 'LB001';
  END IF;
  IF TG_OP = 'DELETE' THEN RETURN OLD; END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER issued_stays BEFORE INSERT OR UPDATE OR DELETE ON scope_lines FOR EACH ROW EXECUTE FUNCTION keep_issued_lines();
CREATE TRIGGER no_truncate BEFORE TRUNCATE ON revisions FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER no_truncate BEFORE TRUNCATE ON scope_lines FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- The door table: which company an opaque key (session, invitation, reset link, form address, mail address)
-- belongs to, asked before the tenant is known. The app role cannot read it; it can only ask for one exact key.
CREATE TABLE tenant_routes (
  kind text NOT NULL,
  key text NOT NULL,
  company_id uuid NOT NULL,
  PRIMARY KEY (kind, key, company_id)
);

CREATE FUNCTION find_companies(route_kind text, route_key text) RETURNS SETOF uuid
LANGUAGE sql STABLE SECURITY DEFINER SET search_path = public, pg_temp AS $$
  SELECT company_id FROM tenant_routes WHERE kind = route_kind AND key = route_key ORDER BY company_id
$$;
REVOKE ALL ON FUNCTION find_companies(text, text) FROM PUBLIC;
GRANT EXECUTE ON FUNCTION find_companies(text, text) TO ledgerboard_app;

-- Keeps the door table in step with the rows it stands for; arguments: kind, column.
CREATE FUNCTION keep_route() RETURNS trigger
LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  old_key text := CASE WHEN TG_OP = 'INSERT' THEN NULL ELSE to_jsonb(OLD) ->> TG_ARGV[1] END;
  new_key text := CASE WHEN TG_OP = 'DELETE' THEN NULL ELSE to_jsonb(NEW) ->> TG_ARGV[1] END;
BEGIN
  IF old_key IS NOT DISTINCT FROM new_key THEN RETURN NULL; END IF;
  IF old_key IS NOT NULL THEN
    DELETE FROM tenant_routes WHERE kind = TG_ARGV[0] AND key = old_key AND company_id = OLD.company_id;
  END IF;
  IF new_key IS NOT NULL THEN
    INSERT INTO tenant_routes (kind, key, company_id) VALUES (TG_ARGV[0], new_key, NEW.company_id);
  END IF;
  RETURN NULL;
END $$;
REVOKE ALL ON FUNCTION keep_route() FROM PUBLIC;
CREATE TRIGGER route AFTER INSERT OR UPDATE OR DELETE ON sessions FOR EACH ROW EXECUTE FUNCTION keep_route('session', 'token_hash');
CREATE TRIGGER route AFTER INSERT OR UPDATE OR DELETE ON invitations FOR EACH ROW EXECUTE FUNCTION keep_route('invitation', 'token_hash');
CREATE TRIGGER route AFTER INSERT OR UPDATE OR DELETE ON password_resets FOR EACH ROW EXECUTE FUNCTION keep_route('password_reset', 'token_hash');
CREATE TRIGGER route AFTER INSERT OR UPDATE OR DELETE ON companies FOR EACH ROW EXECUTE FUNCTION keep_route('slug', 'slug');
CREATE TRIGGER route AFTER INSERT OR UPDATE OR DELETE ON members FOR EACH ROW EXECUTE FUNCTION keep_route('email', 'email');
-- A form address names one company.
CREATE UNIQUE INDEX tenant_routes_slug ON tenant_routes (key) WHERE kind = 'slug';

-- Opens the tenant transaction of a signed-in request in the same round trip that would set the tenant anyway:
-- finds the company of the session, sets it, and answers who is signed in. No row: not signed in.
CREATE FUNCTION open_session(wanted text)
RETURNS TABLE (
  session_id uuid, csrf_token text, company_id uuid, company_name text, company_slug text, timezone text,
  state text, currency text, member_id uuid, member_name text, member_email text, roles text[]
)
LANGUAGE plpgsql AS $$
DECLARE
  tenant uuid;
BEGIN
  SELECT f INTO tenant FROM find_companies('session', wanted) AS f LIMIT 1;
  IF tenant IS NULL THEN RETURN; END IF;
  PERFORM set_config('app.company_id', tenant::text, true);
  RETURN QUERY
    SELECT s.id, s.csrf_token, c.company_id, c.name, c.slug, c.timezone, c.state, c.currency,
           m.id, m.name, m.email, m.roles
    FROM sessions s
    JOIN members m ON m.company_id = s.company_id AND m.id = s.member_id
    JOIN companies c ON c.company_id = s.company_id
    WHERE s.company_id = tenant AND s.token_hash = wanted
      AND s.revoked_at IS NULL AND s.expires_at > now() AND m.active;
  IF NOT FOUND THEN
    PERFORM set_config('app.company_id', '', true);
  END IF;
END $$;
REVOKE ALL ON FUNCTION open_session(text) FROM PUBLIC;
GRANT EXECUTE ON FUNCTION open_session(text) TO ledgerboard_app;

-- Tells the API processes that something changed, so that open screens can follow. Delivered at commit.
CREATE FUNCTION announce_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM pg_notify('ledgerboard_changes', json_build_object(
    'company', NEW.company_id, 'entity', NEW.entity, 'id', NEW.entity_id, 'jobId', NEW.job_id)::text);
  RETURN NULL;
END $$;
CREATE TRIGGER announce AFTER INSERT ON audit_entries FOR EACH ROW EXECUTE FUNCTION announce_change();

-- A job as lists and its page show it: with the customer it belongs to now (whoever he was folded into) and the place.
-- The reader's own rights and policies apply.
CREATE VIEW job_rows WITH (security_invoker = true) AS
  SELECT j.*, coalesce(m.name, c.name) AS customer_name, p.city,
         lower(j.number || ' ' || j.title || ' ' || coalesce(m.name, c.name) || ' ' || p.city) AS search_text
  FROM jobs j
  JOIN customers c ON c.company_id = j.company_id AND c.id = j.customer_id
  LEFT JOIN customers m ON m.company_id = c.company_id AND m.id = c.merged_into_id
  JOIN properties p ON p.company_id = j.company_id AND p.id = j.property_id;
GRANT SELECT ON job_rows TO ledgerboard_app;
CREATE INDEX jobs_newest ON jobs (company_id, list_view, id);

-- A crew is on one job a day, whatever the program does.
CREATE EXTENSION IF NOT EXISTS btree_gist;
ALTER TABLE bookings ADD CONSTRAINT bookings_crew_days EXCLUDE USING gist
  (company_id WITH =, crew_id WITH =, daterange(start_on, end_on, '[]') WITH &&) WHERE (cancelled_at IS NULL);
