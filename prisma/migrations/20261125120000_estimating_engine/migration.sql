-- Materials in packs, assemblies with recipes, alternates, allowances, charges of the whole job, measured zones,
-- advisories, and reasons given for implausible findings.

CREATE TABLE materials (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  price_book_id uuid NOT NULL,
  code text NOT NULL,
  name text NOT NULL,
  unit text NOT NULL,
  section text,
  -- [{ "size": decimal text in the unit, "cents": whole cents }], the way it is sold; empty while it has no price
  packs jsonb NOT NULL DEFAULT '[]',
  whole_packs boolean NOT NULL DEFAULT false,
  retired_at timestamptz,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT materials_unit_known CHECK (unit IN ('each', 'lf', 'sqft', 'gal', 'lb')),
  UNIQUE (company_id, price_book_id, code),
  CHECK (jsonb_typeof(packs) = 'array')
);

-- What one unit of work takes, by the codes of its price book.
CREATE TABLE assemblies (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  price_book_id uuid NOT NULL,
  code text NOT NULL,
  component text NOT NULL,
  action text NOT NULL,
  description text NOT NULL,
  unit text NOT NULL,
  recipe jsonb NOT NULL,
  note text NOT NULL DEFAULT '',
  retired_at timestamptz,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT assemblies_component_known CHECK (component IN ('decking', 'joist', 'rim_joist', 'band', 'beam', 'post', 'footing', 'ledger', 'joist_hanger', 'guard_post', 'rail_cap', 'rail', 'baluster', 'gate', 'stringer', 'tread', 'riser', 'skirting', 'lattice', 'flashing', 'fastener', 'finish')),
  CONSTRAINT assemblies_action_known CHECK (action IN ('keep', 'clean', 'finish', 'refasten', 'treat', 'reinforce', 'sister', 'repair', 'replace', 'add', 'remove', 'open_up')),
  CONSTRAINT assemblies_unit_known CHECK (unit IN ('each', 'lf', 'sqft', 'hour', 'lot')),
  UNIQUE (company_id, price_book_id, code),
  CHECK (jsonb_typeof(recipe) = 'object')
);

-- Existing conditions short of today's code, with what the customer decided.
CREATE TABLE advisories (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  zone_id uuid,
  component text,
  words text NOT NULL,
  reference text NOT NULL,
  decision text NOT NULL DEFAULT 'undecided',
  alternate text,
  declined_name text,
  declined_on date,
  declined_how text,
  member_id uuid NOT NULL,
  removed_at timestamptz,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id),
  CONSTRAINT advisories_component_known CHECK (component IN ('decking', 'joist', 'rim_joist', 'band', 'beam', 'post', 'footing', 'ledger', 'joist_hanger', 'guard_post', 'rail_cap', 'rail', 'baluster', 'gate', 'stringer', 'tread', 'riser', 'skirting', 'lattice', 'flashing', 'fastener', 'finish')),
  CONSTRAINT advisories_decision_known CHECK (decision IN ('undecided', 'alternate', 'in_scope', 'declined')),
  CHECK ((decision = 'alternate') = (alternate IS NOT NULL)),
  CHECK ((decision = 'declined') = (declined_name IS NOT NULL AND declined_on IS NOT NULL AND declined_how IS NOT NULL))
);
CREATE INDEX ON advisories (company_id, job_id);
CREATE INDEX ON advisories (company_id, zone_id);

-- Why somebody let a finding pass. The key carries the finding's numbers. Withdrawing adds a row; the newest counts.
CREATE TABLE finding_passes (
  company_id uuid NOT NULL DEFAULT nullif(current_setting('app.company_id', true), '')::uuid,
  id uuid NOT NULL DEFAULT uuidv7(),
  job_id uuid NOT NULL,
  key text NOT NULL,
  why text,
  member_id uuid NOT NULL,
  created_at timestamptz NOT NULL DEFAULT now(),
  updated_at timestamptz NOT NULL DEFAULT now(),
  version integer NOT NULL DEFAULT 1,
  PRIMARY KEY (company_id, id)
);
CREATE INDEX ON finding_passes (company_id, job_id, key);

ALTER TABLE price_books
  ADD COLUMN minimum_charge_cents integer NOT NULL DEFAULT 0 CHECK (minimum_charge_cents >= 0),
  ADD COLUMN round_up_to_cents integer NOT NULL DEFAULT 0 CHECK (round_up_to_cents >= 0),
  ADD COLUMN labor_correlation_bp integer NOT NULL DEFAULT 3000 CHECK (labor_correlation_bp BETWEEN 0 AND 10000);
ALTER TABLE revisions
  ADD COLUMN minimum_charge_cents integer NOT NULL DEFAULT 0 CHECK (minimum_charge_cents >= 0),
  ADD COLUMN round_up_to_cents integer NOT NULL DEFAULT 0 CHECK (round_up_to_cents >= 0),
  ADD COLUMN labor_correlation_bp integer NOT NULL DEFAULT 3000 CHECK (labor_correlation_bp BETWEEN 0 AND 10000),
  ADD COLUMN charges jsonb NOT NULL DEFAULT '[]' CHECK (jsonb_typeof(charges) = 'array'),
  -- A margin set by hand on a draft stays when the draft is brought to newer prices.
  ADD COLUMN margin_by_hand boolean NOT NULL DEFAULT false;
ALTER TABLE zones ADD COLUMN geometry jsonb;
ALTER TABLE scope_lines RENAME COLUMN item_code TO assembly_code;
ALTER TABLE scope_lines ADD COLUMN alternate text, ADD COLUMN allowance jsonb;

-- What is there already takes the new form. The owner of the tables must see every company for this, and the lines of
-- issued revisions change their spelling, not their price.
ALTER TABLE price_book_items NO FORCE ROW LEVEL SECURITY;
ALTER TABLE scope_lines NO FORCE ROW LEVEL SECURITY;
ALTER TABLE scope_lines DISABLE TRIGGER issued_stays;
ALTER TABLE scope_lines DISABLE TRIGGER touch;

-- A cost with fractions of a cent becomes the price of ten thousand.
CREATE FUNCTION pg_temp.packs_of(unit_cents numeric) RETURNS jsonb LANGUAGE sql AS $$
  SELECT CASE
    WHEN unit_cents = trunc(unit_cents) THEN jsonb_build_array(jsonb_build_object('size', '1', 'cents', unit_cents::bigint))
    ELSE jsonb_build_array(jsonb_build_object('size', '10000', 'cents', (unit_cents * 10000)::bigint))
  END
$$;

INSERT INTO materials (company_id, price_book_id, code, name, unit, packs, retired_at)
SELECT company_id, price_book_id, code, description, CASE WHEN unit IN ('each', 'lf', 'sqft') THEN unit ELSE 'each' END,
       pg_temp.packs_of(material_unit_cents), retired_at
FROM price_book_items WHERE material_unit_cents > 0;

INSERT INTO assemblies (company_id, id, price_book_id, code, component, action, description, unit, recipe, retired_at,
                        created_at, updated_at, version)
SELECT company_id, id, price_book_id, code, component, action, description, unit,
       jsonb_build_object(
         'materials', CASE WHEN material_unit_cents > 0
           THEN jsonb_build_array(jsonb_build_object('code', code, 'inSalt', NULL, 'perUnit', '1', 'wasteBp', waste_bp))
           ELSE '[]'::jsonb END,
         'labor', jsonb_build_array(jsonb_build_object('code', labor_rate_code,
           'hoursPerUnit', trim_scale(hours_per_unit)::text, 'setupHours', '0')),
         'disposalUnitCents', '0', 'equipmentUnitCents', '0', 'laborCvBp', 2500),
       retired_at, created_at, updated_at, version
FROM price_book_items;

UPDATE scope_lines SET rates = jsonb_build_object(
  'materials', CASE WHEN (rates ->> 'materialUnitCents')::numeric > 0
    THEN jsonb_build_array(jsonb_build_object(
      'code', coalesce(assembly_code, component), 'name', CASE WHEN description = '' THEN 'Material' ELSE description END,
      'unit', CASE WHEN unit IN ('each', 'lf', 'sqft') THEN unit ELSE 'each' END, 'section', NULL,
      'packs', pg_temp.packs_of((rates ->> 'materialUnitCents')::numeric), 'wholePacks', false,
      'perUnit', '1', 'wasteBp', (rates ->> 'wasteBp')::integer))
    ELSE '[]'::jsonb END,
  'labor', jsonb_build_array(jsonb_build_object(
    'code', rates ->> 'laborRateCode', 'hoursPerUnit', rates ->> 'hoursPerUnit', 'setupHours', '0',
    'hourlyCents', (rates ->> 'laborHourlyCents')::integer, 'burdenBp', (rates ->> 'laborBurdenBp')::integer)),
  'disposalUnitCents', '0', 'equipmentUnitCents', '0', 'laborCvBp', 2500)
WHERE rates IS NOT NULL;

ALTER TABLE scope_lines ENABLE TRIGGER issued_stays;
ALTER TABLE scope_lines ENABLE TRIGGER touch;
ALTER TABLE scope_lines FORCE ROW LEVEL SECURITY;
DROP TABLE price_book_items;

-- An unseen alternate name or allowance would be a price nobody can explain.
ALTER TABLE scope_lines
  ADD CONSTRAINT scope_lines_alternate_named CHECK (alternate <> ''),
  ADD CONSTRAINT scope_lines_allowance_concealed CHECK (allowance IS NULL OR evidence = 'concealed');

ALTER TABLE materials ADD FOREIGN KEY (company_id, price_book_id) REFERENCES price_books (company_id, id);
ALTER TABLE materials ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE assemblies ADD FOREIGN KEY (company_id, price_book_id) REFERENCES price_books (company_id, id);
ALTER TABLE assemblies ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE advisories ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE advisories ADD FOREIGN KEY (company_id, zone_id) REFERENCES zones (company_id, id);
ALTER TABLE advisories ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE advisories ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);
ALTER TABLE finding_passes ADD FOREIGN KEY (company_id, job_id) REFERENCES jobs (company_id, id);
ALTER TABLE finding_passes ADD FOREIGN KEY (company_id, member_id) REFERENCES members (company_id, id);
ALTER TABLE finding_passes ADD FOREIGN KEY (company_id) REFERENCES companies (company_id);

ALTER TABLE materials ENABLE ROW LEVEL SECURITY;
ALTER TABLE materials FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON materials USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE, DELETE ON materials TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON materials FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE assemblies ENABLE ROW LEVEL SECURITY;
ALTER TABLE assemblies FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON assemblies USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE, DELETE ON assemblies TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON assemblies FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE advisories ENABLE ROW LEVEL SECURITY;
ALTER TABLE advisories FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON advisories USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON advisories TO ledgerboard_app;
CREATE TRIGGER touch BEFORE UPDATE ON advisories FOR EACH ROW EXECUTE FUNCTION touch_row();

ALTER TABLE finding_passes ENABLE ROW LEVEL SECURITY;
ALTER TABLE finding_passes FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON finding_passes USING (company_id = nullif(current_setting('app.company_id', true), '')::uuid) WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
GRANT SELECT, INSERT ON finding_passes TO ledgerboard_app;
CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON finding_passes FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON finding_passes FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- A price book that has not taken effect may be thrown away with what is in it.
GRANT DELETE ON price_books, labor_rates TO ledgerboard_app;
