CREATE TABLE "answers" (
	"answer" integer PRIMARY KEY NOT NULL,
	"table_name" text NOT NULL,
	"key" text NOT NULL,
	"column" text,
	"was" json,
	"becomes" json,
	"verdict" text NOT NULL,
	"rule" text,
	"who" text NOT NULL,
	"decided_at" text NOT NULL,
	"why" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "row_history" (
	"changed_by" integer NOT NULL,
	"table_name" text NOT NULL,
	"key" text NOT NULL,
	"was_batch" integer,
	"became_batch" integer,
	"was" json,
	CONSTRAINT "row_history_changed_by_table_name_key_pk" PRIMARY KEY("changed_by","table_name","key")
);
--> statement-breakpoint
ALTER TABLE "batches" ADD COLUMN "undoes" integer;--> statement-breakpoint
ALTER TABLE "store_state" ADD COLUMN "keeps" integer DEFAULT 1 NOT NULL;--> statement-breakpoint
ALTER TABLE "row_history" ADD CONSTRAINT "row_history_changed_by_batches_batch_fk" FOREIGN KEY ("changed_by") REFERENCES "public"."batches"("batch") ON DELETE no action ON UPDATE no action;