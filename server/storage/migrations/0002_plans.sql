CREATE TABLE "costs" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"what" text,
	"tool_type" text,
	"dated_on" date,
	"amount" double precision,
	"currency" text,
	"note" text
);
--> statement-breakpoint
CREATE TABLE "decisions" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"tool_type" text,
	"item" text,
	"dated_on" date,
	"statement" text,
	"interval_h" double precision,
	"why" text,
	"decided_by" text
);
--> statement-breakpoint
CREATE TABLE "planned_runs" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"serial" text,
	"start_on" date,
	"hours" double precision,
	"max_temperature_C" double precision,
	"customer" text,
	"well" text,
	"note" text
);
--> statement-breakpoint
CREATE TABLE "stock" (
	"key" text PRIMARY KEY NOT NULL,
	"as_written" json NOT NULL,
	"source_file" text NOT NULL,
	"sheet" text,
	"line" integer NOT NULL,
	"added" boolean NOT NULL,
	"batch" integer NOT NULL,
	"kit" text,
	"on_hand" bigint,
	"lead_time_d" double precision,
	"counted_on" date,
	"note" text
);
--> statement-breakpoint
ALTER TABLE "costs" ADD CONSTRAINT "costs_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "decisions" ADD CONSTRAINT "decisions_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "planned_runs" ADD CONSTRAINT "planned_runs_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "stock" ADD CONSTRAINT "stock_batch_batches_batch_fk" FOREIGN KEY ("batch") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;