"""A schedule's journey: from a workbook's sheets to items, their verdicts, and the marks that say so."""
