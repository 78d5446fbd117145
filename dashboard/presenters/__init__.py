"""From what ``scoring`` says to tables and words for a page; pandas, no Streamlit."""
