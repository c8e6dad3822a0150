-- The lowering plan that a step was ticked for, by its mark; a tick from before this was kept stands for none.
ALTER TABLE lowering_looks ADD COLUMN plan TEXT NOT NULL DEFAULT '';
