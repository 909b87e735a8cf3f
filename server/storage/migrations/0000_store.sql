CREATE TABLE "batches" (
	"batch" integer PRIMARY KEY NOT NULL,
	"stored_at" text NOT NULL,
	"who" text NOT NULL,
	"words_version" integer NOT NULL,
	"lines" integer NOT NULL,
	"new" integer NOT NULL,
	"unchanged" integer NOT NULL,
	"changed" integer NOT NULL,
	"set_aside" integer NOT NULL,
	"data_hash" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "compounds" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"compound" text,
	"friction_factor" double precision,
	"source" text
);
--> statement-breakpoint
CREATE TABLE "findings" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"teardown" text,
	"item" text,
	"condition" text,
	"severity" bigint,
	"caused_by" text,
	"measured" double precision,
	"measured_kind" text,
	"measured_unit" text,
	"breakout_torque_Nm" double precision,
	"disposition" text,
	"cause" text,
	"photo" text,
	"note" text
);
--> statement-breakpoint
CREATE TABLE "fitted_items" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"redress" text,
	"item" text,
	"renewed" boolean,
	"item_serial" text,
	"age_at_fitting_h" double precision,
	"elastomer" text,
	"hardness_shoreA" double precision,
	"hardness_is" text,
	"lot" text,
	"cured_on" date,
	"gap_mm" double precision,
	"backup_ring" text
);
--> statement-breakpoint
CREATE TABLE "joints" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"redress" text,
	"joint" text,
	"new_thread" boolean,
	"target_torque_Nm" double precision,
	"final_torque_Nm" double precision,
	"make_break_cycles" bigint,
	"compound" text,
	"threadlocker" text,
	"shoulder_treatment" text,
	"torque_tool" text,
	"calibrated_on" date
);
--> statement-breakpoint
CREATE TABLE "mappings" (
	"fingerprint" text NOT NULL,
	"version" integer NOT NULL,
	"batch" integer NOT NULL,
	"mapping" json NOT NULL,
	CONSTRAINT "mappings_fingerprint_version_pk" PRIMARY KEY("fingerprint","version")
);
--> statement-breakpoint
CREATE TABLE "modes" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"item" text,
	"mode" text,
	"announces" text,
	"threshold" bigint,
	"restored_by" text,
	"leads_to" text,
	"words" text[]
);
--> statement-breakpoint
CREATE TABLE "problems" (
	"batch" integer NOT NULL,
	"position" integer NOT NULL,
	"set_aside" integer,
	"code" text NOT NULL,
	"severity" text NOT NULL,
	"file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"column" text,
	"value" text,
	"facts" json NOT NULL,
	CONSTRAINT "problems_batch_position_pk" PRIMARY KEY("batch","position")
);
--> statement-breakpoint
CREATE TABLE "redresses" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"redress" text,
	"serial" text,
	"done_on" date,
	"reason" text,
	"technician" text,
	"pressure_test" text,
	"overall_length_mm" double precision
);
--> statement-breakpoint
CREATE TABLE "runs" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"run" text,
	"serial" text,
	"out_on" date,
	"in_on" date,
	"hours" double precision,
	"hours_kind" text,
	"customer" text,
	"well" text,
	"rig" text,
	"crew" text,
	"depth_m" double precision,
	"max_temperature_C" double precision,
	"mud" text,
	"differential_pressure_MPa" double precision,
	"vibration_class" bigint,
	"vibration_g_rms" double precision,
	"pulled_because" text,
	"item_seen" text,
	"mode_seen" text,
	"hour_seen" double precision,
	"reported_on" date
);
--> statement-breakpoint
CREATE TABLE "set_aside" (
	"batch" integer NOT NULL,
	"position" integer NOT NULL,
	"file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"cells" json NOT NULL,
	CONSTRAINT "set_aside_batch_position_pk" PRIMARY KEY("batch","position")
);
--> statement-breakpoint
CREATE TABLE "setup_rows" (
	"batch" integer NOT NULL,
	"position" integer NOT NULL,
	"table_name" text NOT NULL,
	"values" json NOT NULL,
	"why" text NOT NULL,
	CONSTRAINT "setup_rows_batch_position_pk" PRIMARY KEY("batch","position")
);
--> statement-breakpoint
CREATE TABLE "source_files" (
	"batch" integer NOT NULL,
	"position" integer NOT NULL,
	"file" text NOT NULL,
	"sha256" text NOT NULL,
	"bytes" bigint NOT NULL,
	"lines" integer NOT NULL,
	"new" integer NOT NULL,
	"unchanged" integer NOT NULL,
	"changed" integer NOT NULL,
	"set_aside" integer NOT NULL,
	CONSTRAINT "source_files_batch_position_pk" PRIMARY KEY("batch","position")
);
--> statement-breakpoint
CREATE TABLE "store_state" (
	"id" integer PRIMARY KEY NOT NULL,
	"journal" text NOT NULL,
	"sequence" integer NOT NULL,
	"hash" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "teardowns" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"teardown" text,
	"serial" text,
	"done_on" date,
	"why" text,
	"scope" text[],
	"kind" text,
	"technician" text
);
--> statement-breakpoint
CREATE TABLE "tool_items" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"tool_type" text,
	"item" text,
	"kind" text,
	"position" double precision,
	"design_torque_Nm" double precision,
	"connection" text,
	"kit" text,
	"aliases" text[]
);
--> statement-breakpoint
CREATE TABLE "tools" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"serial" text,
	"tool_type" text,
	"size_in" double precision,
	"entered_on" date,
	"hours_at_entry" double precision,
	"status" text,
	"status_on" date,
	"location" text
);
--> statement-breakpoint
CREATE TABLE "word_lists" (
	"version" integer PRIMARY KEY NOT NULL,
	"batch" integer NOT NULL,
	"words" json NOT NULL
);
--> statement-breakpoint
ALTER TABLE "compounds" ADD CONSTRAINT "compounds_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "findings" ADD CONSTRAINT "findings_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "fitted_items" ADD CONSTRAINT "fitted_items_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "joints" ADD CONSTRAINT "joints_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "mappings" ADD CONSTRAINT "mappings_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "modes" ADD CONSTRAINT "modes_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "problems" ADD CONSTRAINT "problems_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "redresses" ADD CONSTRAINT "redresses_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "runs" ADD CONSTRAINT "runs_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "set_aside" ADD CONSTRAINT "set_aside_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "setup_rows" ADD CONSTRAINT "setup_rows_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "source_files" ADD CONSTRAINT "source_files_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "teardowns" ADD CONSTRAINT "teardowns_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "tool_items" ADD CONSTRAINT "tool_items_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "tools" ADD CONSTRAINT "tools_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "word_lists" ADD CONSTRAINT "word_lists_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;