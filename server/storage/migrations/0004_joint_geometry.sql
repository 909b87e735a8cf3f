ALTER TABLE "tool_items" ADD COLUMN "section_mm2" double precision;--> statement-breakpoint
ALTER TABLE "tool_items" ADD COLUMN "thread_lead_mm" double precision;--> statement-breakpoint
ALTER TABLE "tool_items" ADD COLUMN "thread_radius_mm" double precision;--> statement-breakpoint
ALTER TABLE "tool_items" ADD COLUMN "shoulder_radius_mm" double precision;--> statement-breakpoint
ALTER TABLE "tool_items" ADD COLUMN "thread_half_angle" double precision;