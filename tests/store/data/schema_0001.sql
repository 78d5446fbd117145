-- only sqlite
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
CREATE TABLE people (
	name TEXT NOT NULL, 
	since TEXT NOT NULL, 
	CONSTRAINT pk_people PRIMARY KEY (name)
);
CREATE TABLE units (
	unit_id TEXT NOT NULL, 
	asset_id TEXT, 
	site TEXT NOT NULL, 
	line TEXT, 
	driven_equipment TEXT, 
	installer TEXT, 
	installed_on TEXT NOT NULL, 
	started_on TEXT, 
	out_of_service_on TEXT, 
	failures_recorded_from TEXT, 
	mounting TEXT NOT NULL, 
	shaft_tolerance TEXT, 
	bearing_kind TEXT, 
	screw_thread TEXT, 
	seal_material TEXT, 
	environment TEXT, 
	currency TEXT, 
	shaft_diameter_mm DOUBLE NOT NULL, 
	required_engagement_mm DOUBLE, 
	shaft_low_mm DOUBLE, 
	shaft_high_mm DOUBLE, 
	output_torque_nm DOUBLE, 
	peak_factor DOUBLE, 
	output_speed_rpm DOUBLE, 
	motor_power_kw DOUBLE, 
	duty_h_per_day DOUBLE, 
	joint_rated_torque_nm DOUBLE, 
	unit_mass_kg DOUBLE, 
	arm_length_mm DOUBLE, 
	bearing_span_mm DOUBLE, 
	arm_offset_mm DOUBLE, 
	shaft_support_distance_mm DOUBLE, 
	hub_outer_mm DOUBLE, 
	clamp_length_mm DOUBLE, 
	bearing_dynamic_rating_n DOUBLE, 
	isolator_outer_mm DOUBLE, 
	isolator_inner_mm DOUBLE, 
	isolator_thickness_mm DOUBLE, 
	isolator_hardness_shore_a DOUBLE, 
	screw_torque_nm DOUBLE, 
	collar_gap_min_mm DOUBLE, 
	collar_gap_max_mm DOUBLE, 
	ambient_c DOUBLE, 
	downtime_cost_per_h DOUBLE, 
	bearing_repair_cost DOUBLE, 
	bearing_repair_h DOUBLE, 
	leak_repair_cost DOUBLE, 
	leak_repair_h DOUBLE, 
	screw_count INTEGER, 
	torque_passes_required INTEGER, 
	version INTEGER NOT NULL, 
	digest TEXT NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	CONSTRAINT pk_units PRIMARY KEY (unit_id)
);
CREATE TABLE walkdowns (
	walkdown_id TEXT NOT NULL, 
	unit_id TEXT NOT NULL, 
	inspected_on TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	recorded_at TEXT, 
	inspector TEXT, 
	notes TEXT, 
	bore_condition TEXT, 
	clamp_seat_condition TEXT, 
	seated TEXT, 
	support_bushings TEXT, 
	shaft_end TEXT, 
	key_condition TEXT, 
	retention TEXT, 
	tightening_order TEXT, 
	arm_bolts TEXT, 
	isolator_stack TEXT, 
	metal_contact TEXT, 
	breather TEXT, 
	oil_level TEXT, 
	guard TEXT, 
	seal_weep TEXT, 
	engagement_mm DOUBLE, 
	shaft_diameter_measured_mm DOUBLE, 
	shaft_runout_mm DOUBLE, 
	final_torque_nm DOUBLE, 
	collar_gap_mm DOUBLE, 
	disc_offset_mm DOUBLE, 
	isolator_squeeze_mm DOUBLE, 
	smallest_clearance_mm DOUBLE, 
	arm_misset_mm DOUBLE, 
	arm_angle_deg DOUBLE, 
	running_temperature_c DOUBLE, 
	vibration_mm_s DOUBLE, 
	torque_passes INTEGER, 
	screws_low INTEGER, 
	isolators_free INTEGER, 
	version INTEGER NOT NULL, 
	digest TEXT NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	CONSTRAINT pk_walkdowns PRIMARY KEY (walkdown_id), 
	CONSTRAINT fk_walkdowns_unit_id FOREIGN KEY(unit_id) REFERENCES units (unit_id)
);
CREATE INDEX ix_walkdowns_unit_id ON walkdowns (unit_id);
CREATE TABLE events (
	event_id TEXT NOT NULL, 
	unit_id TEXT NOT NULL, 
	occurred_on TEXT NOT NULL, 
	mode TEXT NOT NULL, 
	recorded_at TEXT, 
	crew TEXT, 
	notes TEXT, 
	downtime_h DOUBLE, 
	cost DOUBLE, 
	version INTEGER NOT NULL, 
	digest TEXT NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	CONSTRAINT pk_events PRIMARY KEY (event_id), 
	CONSTRAINT fk_events_unit_id FOREIGN KEY(unit_id) REFERENCES units (unit_id)
);
CREATE INDEX ix_events_unit_id ON events (unit_id);
CREATE TABLE rework (
	rework_id TEXT NOT NULL, 
	unit_id TEXT NOT NULL, 
	done_on TEXT NOT NULL, 
	actions TEXT NOT NULL, 
	recorded_at TEXT, 
	event_id TEXT, 
	crew TEXT, 
	notes TEXT, 
	hours DOUBLE, 
	crew_size INTEGER, 
	version INTEGER NOT NULL, 
	digest TEXT NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	CONSTRAINT pk_rework PRIMARY KEY (rework_id), 
	CONSTRAINT fk_rework_unit_id FOREIGN KEY(unit_id) REFERENCES units (unit_id)
);
CREATE INDEX ix_rework_unit_id ON rework (unit_id);
CREATE TABLE accepted (
	accepted_id TEXT NOT NULL, 
	unit_id TEXT NOT NULL, 
	"check" TEXT NOT NULL, 
	accepted_by TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	accepted_on TEXT NOT NULL, 
	until_on TEXT NOT NULL, 
	version INTEGER NOT NULL, 
	digest TEXT NOT NULL, 
	withdrawn BOOLEAN NOT NULL, 
	CONSTRAINT pk_accepted PRIMARY KEY (accepted_id), 
	CONSTRAINT fk_accepted_unit_id FOREIGN KEY(unit_id) REFERENCES units (unit_id)
);
CREATE INDEX ix_accepted_unit_id ON accepted (unit_id);
CREATE TABLE history (
	history_id INTEGER NOT NULL, 
	at TEXT NOT NULL, 
	actor TEXT NOT NULL, 
	about TEXT NOT NULL, 
	"key" TEXT NOT NULL, 
	unit_id TEXT, 
	change TEXT NOT NULL, 
	version INTEGER, 
	reason TEXT, 
	"before" TEXT, 
	"after" TEXT, 
	CONSTRAINT pk_history PRIMARY KEY (history_id), 
	CONSTRAINT fk_history_actor FOREIGN KEY(actor) REFERENCES people (name)
);
CREATE INDEX ix_history_about_key ON history (about, "key");
CREATE INDEX ix_history_about_history_id ON history (about, history_id);
CREATE INDEX ix_history_unit_id ON history (unit_id);
CREATE TRIGGER history_is_not_changed BEFORE UPDATE ON history
        BEGIN SELECT RAISE(ABORT, 'history is only added to'); END;
CREATE TRIGGER history_is_not_removed BEFORE DELETE ON history
        BEGIN SELECT RAISE(ABORT, 'history is only added to'); END;
CREATE TABLE loads (
	load_id INTEGER NOT NULL, 
	at TEXT NOT NULL, 
	actor TEXT NOT NULL, 
	source TEXT NOT NULL, 
	added INTEGER NOT NULL, 
	changed INTEGER NOT NULL, 
	same INTEGER NOT NULL, 
	rejected INTEGER NOT NULL, 
	CONSTRAINT pk_loads PRIMARY KEY (load_id), 
	CONSTRAINT fk_loads_actor FOREIGN KEY(actor) REFERENCES people (name)
);
-- only postgresql
CREATE FUNCTION history_is_only_added_to() RETURNS trigger
    LANGUAGE plpgsql
    AS $$ BEGIN RAISE EXCEPTION 'history is only added to'; END $$;
CREATE TABLE accepted (
    accepted_id text NOT NULL,
    unit_id text NOT NULL,
    "check" text NOT NULL,
    accepted_by text NOT NULL,
    reason text NOT NULL,
    accepted_on text NOT NULL,
    until_on text NOT NULL,
    version integer NOT NULL,
    digest text NOT NULL,
    withdrawn boolean NOT NULL
);
CREATE TABLE alembic_version (
    version_num character varying(32) NOT NULL
);
CREATE TABLE events (
    event_id text NOT NULL,
    unit_id text NOT NULL,
    occurred_on text NOT NULL,
    mode text NOT NULL,
    recorded_at text,
    crew text,
    notes text,
    downtime_h double precision,
    cost double precision,
    version integer NOT NULL,
    digest text NOT NULL,
    withdrawn boolean NOT NULL
);
CREATE TABLE history (
    history_id bigint NOT NULL,
    at text NOT NULL,
    actor text NOT NULL,
    about text NOT NULL,
    key text NOT NULL,
    unit_id text,
    change text NOT NULL,
    version integer,
    reason text,
    before text,
    after text
);
CREATE SEQUENCE history_history_id_seq
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;
ALTER SEQUENCE history_history_id_seq OWNED BY history.history_id;
CREATE TABLE loads (
    load_id bigint NOT NULL,
    at text NOT NULL,
    actor text NOT NULL,
    source text NOT NULL,
    added integer NOT NULL,
    changed integer NOT NULL,
    same integer NOT NULL,
    rejected integer NOT NULL
);
CREATE SEQUENCE loads_load_id_seq
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;
ALTER SEQUENCE loads_load_id_seq OWNED BY loads.load_id;
CREATE TABLE people (
    name text NOT NULL,
    since text NOT NULL
);
CREATE TABLE rework (
    rework_id text NOT NULL,
    unit_id text NOT NULL,
    done_on text NOT NULL,
    actions text NOT NULL,
    recorded_at text,
    event_id text,
    crew text,
    notes text,
    hours double precision,
    crew_size integer,
    version integer NOT NULL,
    digest text NOT NULL,
    withdrawn boolean NOT NULL
);
CREATE TABLE units (
    unit_id text NOT NULL,
    asset_id text,
    site text NOT NULL,
    line text,
    driven_equipment text,
    installer text,
    installed_on text NOT NULL,
    started_on text,
    out_of_service_on text,
    failures_recorded_from text,
    mounting text NOT NULL,
    shaft_tolerance text,
    bearing_kind text,
    screw_thread text,
    seal_material text,
    environment text,
    currency text,
    shaft_diameter_mm double precision NOT NULL,
    required_engagement_mm double precision,
    shaft_low_mm double precision,
    shaft_high_mm double precision,
    output_torque_nm double precision,
    peak_factor double precision,
    output_speed_rpm double precision,
    motor_power_kw double precision,
    duty_h_per_day double precision,
    joint_rated_torque_nm double precision,
    unit_mass_kg double precision,
    arm_length_mm double precision,
    bearing_span_mm double precision,
    arm_offset_mm double precision,
    shaft_support_distance_mm double precision,
    hub_outer_mm double precision,
    clamp_length_mm double precision,
    bearing_dynamic_rating_n double precision,
    isolator_outer_mm double precision,
    isolator_inner_mm double precision,
    isolator_thickness_mm double precision,
    isolator_hardness_shore_a double precision,
    screw_torque_nm double precision,
    collar_gap_min_mm double precision,
    collar_gap_max_mm double precision,
    ambient_c double precision,
    downtime_cost_per_h double precision,
    bearing_repair_cost double precision,
    bearing_repair_h double precision,
    leak_repair_cost double precision,
    leak_repair_h double precision,
    screw_count integer,
    torque_passes_required integer,
    version integer NOT NULL,
    digest text NOT NULL,
    withdrawn boolean NOT NULL
);
CREATE TABLE walkdowns (
    walkdown_id text NOT NULL,
    unit_id text NOT NULL,
    inspected_on text NOT NULL,
    kind text NOT NULL,
    recorded_at text,
    inspector text,
    notes text,
    bore_condition text,
    clamp_seat_condition text,
    seated text,
    support_bushings text,
    shaft_end text,
    key_condition text,
    retention text,
    tightening_order text,
    arm_bolts text,
    isolator_stack text,
    metal_contact text,
    breather text,
    oil_level text,
    guard text,
    seal_weep text,
    engagement_mm double precision,
    shaft_diameter_measured_mm double precision,
    shaft_runout_mm double precision,
    final_torque_nm double precision,
    collar_gap_mm double precision,
    disc_offset_mm double precision,
    isolator_squeeze_mm double precision,
    smallest_clearance_mm double precision,
    arm_misset_mm double precision,
    arm_angle_deg double precision,
    running_temperature_c double precision,
    vibration_mm_s double precision,
    torque_passes integer,
    screws_low integer,
    isolators_free integer,
    version integer NOT NULL,
    digest text NOT NULL,
    withdrawn boolean NOT NULL
);
ALTER TABLE ONLY history ALTER COLUMN history_id SET DEFAULT nextval('history_history_id_seq'::regclass);
ALTER TABLE ONLY loads ALTER COLUMN load_id SET DEFAULT nextval('loads_load_id_seq'::regclass);
ALTER TABLE ONLY alembic_version
    ADD CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num);
ALTER TABLE ONLY accepted
    ADD CONSTRAINT pk_accepted PRIMARY KEY (accepted_id);
ALTER TABLE ONLY events
    ADD CONSTRAINT pk_events PRIMARY KEY (event_id);
ALTER TABLE ONLY history
    ADD CONSTRAINT pk_history PRIMARY KEY (history_id);
ALTER TABLE ONLY loads
    ADD CONSTRAINT pk_loads PRIMARY KEY (load_id);
ALTER TABLE ONLY people
    ADD CONSTRAINT pk_people PRIMARY KEY (name);
ALTER TABLE ONLY rework
    ADD CONSTRAINT pk_rework PRIMARY KEY (rework_id);
ALTER TABLE ONLY units
    ADD CONSTRAINT pk_units PRIMARY KEY (unit_id);
ALTER TABLE ONLY walkdowns
    ADD CONSTRAINT pk_walkdowns PRIMARY KEY (walkdown_id);
CREATE INDEX ix_accepted_unit_id ON accepted USING btree (unit_id);
CREATE INDEX ix_events_unit_id ON events USING btree (unit_id);
CREATE INDEX ix_history_about_history_id ON history USING btree (about, history_id);
CREATE INDEX ix_history_about_key ON history USING btree (about, key);
CREATE INDEX ix_history_unit_id ON history USING btree (unit_id);
CREATE INDEX ix_rework_unit_id ON rework USING btree (unit_id);
CREATE INDEX ix_walkdowns_unit_id ON walkdowns USING btree (unit_id);
CREATE TRIGGER history_is_only_added_to BEFORE DELETE OR UPDATE OR TRUNCATE ON history FOR EACH STATEMENT EXECUTE FUNCTION history_is_only_added_to();
ALTER TABLE ONLY accepted
    ADD CONSTRAINT fk_accepted_unit_id FOREIGN KEY (unit_id) REFERENCES units(unit_id);
ALTER TABLE ONLY events
    ADD CONSTRAINT fk_events_unit_id FOREIGN KEY (unit_id) REFERENCES units(unit_id);
ALTER TABLE ONLY history
    ADD CONSTRAINT fk_history_actor FOREIGN KEY (actor) REFERENCES people(name);
ALTER TABLE ONLY loads
    ADD CONSTRAINT fk_loads_actor FOREIGN KEY (actor) REFERENCES people(name);
ALTER TABLE ONLY rework
    ADD CONSTRAINT fk_rework_unit_id FOREIGN KEY (unit_id) REFERENCES units(unit_id);
ALTER TABLE ONLY walkdowns
    ADD CONSTRAINT fk_walkdowns_unit_id FOREIGN KEY (unit_id) REFERENCES units(unit_id);
-- only both
INSERT INTO alembic_version (version_num) VALUES ('0001');
INSERT INTO people (name, since) VALUES ('Ann Bell', '2026-01-02T03:04:05.678+00:00');
INSERT INTO history (at, actor, about, "key", unit_id, change, version, reason, "before", "after") VALUES ('2026-01-02T03:04:05.678+00:00', 'Ann Bell', 'people', 'Ann Bell', NULL, 'added', NULL, 'load of plant', NULL, '{"name":"Ann Bell","since":"2026-01-02T03:04:05.678+00:00"}');
INSERT INTO units (unit_id, site, installed_on, mounting, shaft_diameter_mm, unit_mass_kg, screw_count, version, digest, withdrawn) VALUES ('U-1', 'O''Hara pit', '2024-01-10', 'keyed_bore', 80.0, 412.5, 8, 2, '53a329e0e919860fd37a78ed27d0c07a9abbb9697d6537b09ae8a93caf3540f7', FALSE);
INSERT INTO units (unit_id, site, installed_on, mounting, shaft_diameter_mm, version, digest, withdrawn) VALUES ('U-2', 'South yard 😀', '2024-02-10', 'shrink_disc', 60.0, 1, 'acb67b5d65e8b7036343c4f52db5ae8bdc68a53c2cb7de666024e8a51c79943a', FALSE);
INSERT INTO walkdowns (walkdown_id, unit_id, inspected_on, kind, isolators_free, notes, engagement_mm, version, digest, withdrawn) VALUES ('W-1', 'U-1', '2024-01-11T14:30:00', 'post_install', 1, '=1+1
second line', 95.25, 1, '51121bd6edc8706c3345521d4d9fea24877702c5f9bcc3b452d3848b9cdb74a4', FALSE);
INSERT INTO history (at, actor, about, "key", unit_id, change, version, reason, "before", "after") VALUES ('2026-01-02T03:04:05.678+00:00', 'Ann Bell', 'units', 'U-1', 'U-1', 'added', 1, 'load of plant', NULL, '{"unit_id":"U-1","site":"O''Hara pit","installed_on":"2024-01-10","mounting":"keyed_bore","shaft_diameter_mm":80.0,"unit_mass_kg":400.0,"screw_count":8}');
INSERT INTO history (at, actor, about, "key", unit_id, change, version, reason, "before", "after") VALUES ('2026-01-02T03:04:05.678+00:00', 'Ann Bell', 'units', 'U-2', 'U-2', 'added', 1, 'load of plant', NULL, '{"unit_id":"U-2","site":"South yard 😀","installed_on":"2024-02-10","mounting":"shrink_disc","shaft_diameter_mm":60.0}');
INSERT INTO history (at, actor, about, "key", unit_id, change, version, reason, "before", "after") VALUES ('2026-01-02T03:04:05.678+00:00', 'Ann Bell', 'units', 'U-1', 'U-1', 'changed', 2, 'load of plant', '{"unit_id":"U-1","site":"O''Hara pit","installed_on":"2024-01-10","mounting":"keyed_bore","shaft_diameter_mm":80.0,"unit_mass_kg":400.0,"screw_count":8}', '{"unit_id":"U-1","site":"O''Hara pit","installed_on":"2024-01-10","mounting":"keyed_bore","shaft_diameter_mm":80.0,"unit_mass_kg":412.5,"screw_count":8}');
INSERT INTO history (at, actor, about, "key", unit_id, change, version, reason, "before", "after") VALUES ('2026-01-02T03:04:05.678+00:00', 'Ann Bell', 'walkdowns', 'W-1', 'U-1', 'added', 1, 'load of plant', NULL, '{"walkdown_id":"W-1","unit_id":"U-1","inspected_on":"2024-01-11T14:30:00","kind":"post_install","isolators_free":1,"notes":"=1+1\nsecond line","engagement_mm":95.25}');
INSERT INTO loads (at, actor, source, added, changed, same, rejected) VALUES ('2026-01-02T03:04:05.678+00:00', 'Ann Bell', 'plant', 4, 1, 0, 0);
