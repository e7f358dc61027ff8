"""What the workbench shows of a project, as plain records for its page: sentence, measures, sheet, lid, proof."""
