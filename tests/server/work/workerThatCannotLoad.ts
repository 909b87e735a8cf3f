/** A worker for tests of the pool: it dies before it takes a task. */
throw new Error("this module cannot be loaded");
