/** A module worker that holds the whole model; `inWorker` starts it and speaks with it. */
export {};
