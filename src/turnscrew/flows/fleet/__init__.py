"""What a fleet tells: what fails, how sure that is, what comes, what to advise."""
